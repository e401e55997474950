"""Learns where sentences and clauses begin (src/language/border-net.ts): border_net.py ROWS OUT."""
from torch_nets import asked, conv_lists, flat, learn, memory_lists

import collections
import json
import random

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

WORD, MEMORY, FINDS = 48, 64, 64
SEEN = 8  # in so many texts a word must be said
ROUNDS, RATE, WARM = 16, 4e-3, 100
LONGEST, WORDS = 160, 5000  # words of a piece of a text, and of a batch
SENTENCES = (1, 1, 1, 2, 2, 3, 4)  # of a short piece
LEFT_OUT = {"words": 0.05, "numbers": 0.15, "memory": 0.25, "found": 0.2}
UNKNOWN, CLAUSE, SENTENCE = -1, 2, 3  # borders

files = asked()

texts = [json.loads(line) for line in open(files.rows)]
said = collections.Counter()
for text in texts:
    said.update(set(text["words"]))
words = sorted(word for word, times in said.items() if times >= SEEN)
OTHER, NONE = 0, len(words) + 1
number = {word: i + 1 for i, word in enumerate(words)}
for text in texts:
    text["rows"] = np.array([number.get(word, OTHER) for word in text["words"]], dtype=np.int64)
    text["due"] = np.array(text["due"], dtype=np.int64)


class Net(nn.Module):
    def __init__(self):
        super().__init__()
        self.vectors = nn.Embedding(len(words) + 2, WORD)
        nn.init.normal_(self.vectors.weight, 0, 0.3)
        self.onward = nn.GRU(WORD, MEMORY, batch_first=True)
        self.back = nn.GRU(WORD, MEMORY, batch_first=True)
        self.around = nn.Conv1d(WORD + 2 * MEMORY, FINDS, 3, padding=1)
        self.wider = nn.Conv1d(FINDS, FINDS, 3, padding=2, dilation=2)
        self.out = nn.Linear(FINDS, 2)

    def forward(self, rows, is_word):
        drop = lambda x, what: F.dropout(x, LEFT_OUT[what], self.training)
        x = drop(self.vectors(rows), "numbers")
        # each piece turned round by itself: what fills up a shorter one comes behind it either way
        places = torch.arange(rows.shape[1])[None]
        last = is_word.sum(1, keepdim=True).long() - 1
        turned = torch.where(places <= last, last - places, places)[..., None]
        back = self.back(x.gather(1, turned.expand_as(x)))[0]
        back = back.gather(1, turned.expand_as(back))
        x = torch.cat([x, drop(self.onward(x)[0], "memory"), drop(back, "memory")], -1)
        y = drop(F.relu(self.around((x * is_word[..., None]).transpose(1, 2))), "numbers") * is_word[:, None]
        y = y + drop(F.relu(self.wider(y)), "numbers")
        return self.out(drop(y.transpose(1, 2), "found"))


def spans(text):
    """Pieces of a text, which begin at other words each time: long ones, or a few sentences by themselves, as they are heard one by one."""
    end = len(text["rows"])
    if random.random() < 0.5:
        return [(max(0, start), start + LONGEST) for start in range(-random.randint(0, LONGEST // 2), end, LONGEST)]
    out, start = [], 0
    while start < end:
        stop = start
        for _ in range(random.choice(SENTENCES)):
            stop += 1
            while stop < min(end, start + LONGEST) and text["due"][stop] != SENTENCE:
                stop += 1
        out.append((start, stop))
        start = stop
    return out


def batches():
    """Pieces of about the same length."""
    pieces = [(text["rows"][a:b], text["due"][a:b]) for text in texts for a, b in spans(text)]
    pieces.sort(key=lambda piece: len(piece[0]) // 8 + random.random() * 0.5)
    out = []
    for piece in pieces:
        if not out or len(out[-1]) * len(piece[0]) > WORDS:
            out.append([])
        out[-1].append(piece)
    random.shuffle(out)
    return out


def batch(pieces):
    wide = max(len(rows) for rows, _ in pieces)
    all_rows = np.full((len(pieces), wide), NONE, dtype=np.int64)
    all_due = np.full((len(pieces), wide), UNKNOWN, dtype=np.int64)
    is_word = np.zeros((len(pieces), wide), dtype=np.float32)
    for i, (rows, due) in enumerate(pieces):
        all_rows[i, : len(rows)] = np.where(np.random.rand(len(rows)) < LEFT_OUT["words"], OTHER, rows)
        all_due[i, : len(due)] = due
        is_word[i, : len(rows)] = 1
    return torch.from_numpy(all_rows), torch.from_numpy(all_due), torch.from_numpy(is_word)


net = Net()


def loss_of(pieces):
    rows, due, is_word = batch(pieces)
    odds = net(rows, is_word)
    told = torch.stack([due == SENTENCE, due >= CLAUSE], -1).float()
    losses = F.binary_cross_entropy_with_logits(odds, told, reduction="none").sum(-1)
    counts = (due > UNKNOWN).float()
    return (losses * counts).sum() / counts.sum()


learn("borders", net, ROUNDS, RATE, WARM, batches, loss_of)
json.dump(
    {
        "words": words,
        "shape": {"word": WORD, "memory": MEMORY, "finds": FINDS},
        "vectors": flat(net.vectors.weight[:NONE]),
        **memory_lists("heard", "again", net.onward),
        **memory_lists("backHeard", "backAgain", net.back),
        **conv_lists("around", net.around),
        **conv_lists("wider", net.wider),
        "out": flat(net.out.weight.t()),
        "outBase": flat(net.out.bias),
    },
    open(files.out, "w"),
)
