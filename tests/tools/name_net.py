"""Learns which words name a hive that is called (src/language/name-net.ts): name_net.py ROWS OUT."""
from torch_nets import asked, learn
from talk_net import NONE_DUE, OTHER, SENTENCE, TalkNet, batch, batched, loss_by, number_words, spans, words_of

import json
import random

import numpy as np
import torch

ROUNDS, RATE, WARM = 10, 4e-3, 100
LONGEST = 320  # words of a piece of a text
WHOLE, SENTENCES = 0.6, (1, 1, 2, 2, 3, 4, 6)  # how many texts are taken in long pieces; sentences of a short one
LEFT_OUT = {"words": 0.06, "names": 0.4, "numbers": 0.15, "memory": 0.25, "found": 0.2}
BEGINS, GOES_ON = 1, 2
SMALL = set("one two three four five six seven eight nine ten eleven twelve ##".split())

files = asked()
texts = [json.loads(line) for line in open(files.rows)]
words = words_of(texts)
number_words(texts, words, "known")
net = TalkNet(words, 40, 56, 56, 2, LEFT_OUT)
for text in texts:
    text["numbers"] = np.array([word in SMALL or word.isdigit() for word in text["words"]])


def batches():
    return batched(
        [
            (text["rows"][a:b], text["due"][a:b], text["numbers"][a:b])
            for text in texts
            for a, b in spans(len(text["rows"]), lambda i: text["breaks"][i] == SENTENCE, WHOLE, LONGEST, SENTENCES)
        ]
    )


def leave_out(rows, known, is_number):
    """Some words are left out, and some names wherever they stand: what is around them must tell."""
    rows = np.where(np.random.rand(len(rows)) < LEFT_OUT["words"], OTHER, rows)
    for row in set(rows[(known != NONE_DUE) & ~is_number]):
        if random.random() < LEFT_OUT["names"]:
            rows[rows == row] = OTHER
    return rows


def loss_of(pieces):
    rows, known, is_word = batch(pieces, words, leave_out)
    told = torch.stack([known == BEGINS, known == GOES_ON], -1).float()
    return loss_by(net, rows, is_word, told, known)


learn("names", net, ROUNDS, RATE, WARM, batches, loss_of)
net.write(files.out)
