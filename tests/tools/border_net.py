"""Learns where sentences and clauses begin (src/language/border-net.ts): border_net.py ROWS OUT."""
from torch_nets import asked, learn
from talk_net import OTHER, SENTENCE, TalkNet, batch, batched, loss_by, number_words, spans, words_of

import json

import numpy as np
import torch

ROUNDS, RATE, WARM = 16, 4e-3, 100
LONGEST = 160  # words of a piece of a text
WHOLE, SENTENCES = 0.5, (1, 1, 1, 2, 2, 3, 4)  # how many texts are taken in long pieces; sentences of a short one
LEFT_OUT = {"words": 0.05, "numbers": 0.15, "memory": 0.25, "found": 0.2}
CLAUSE = 2  # a border

files = asked()
texts = [json.loads(line) for line in open(files.rows)]
words = words_of(texts)
number_words(texts, words, "due")
net = TalkNet(words, 48, 64, 64, 2, LEFT_OUT)


def batches():
    return batched(
        [
            (text["rows"][a:b], text["due"][a:b])
            for text in texts
            for a, b in spans(len(text["rows"]), lambda i: text["due"][i] == SENTENCE, WHOLE, LONGEST, SENTENCES)
        ]
    )


def loss_of(pieces):
    leave_out = lambda rows, due: np.where(np.random.rand(len(rows)) < LEFT_OUT["words"], OTHER, rows)
    rows, due, is_word = batch(pieces, words, leave_out)
    told = torch.stack([due == SENTENCE, due >= CLAUSE], -1).float()
    return loss_by(net, rows, is_word, told, due)


learn("borders", net, ROUNDS, RATE, WARM, batches, loss_of)
net.write(files.out)
