"""Nets that look at the whole of some talk (src/language/talk-net.ts), as they are learned."""
from torch_nets import conv_lists, flat, memory_lists

import collections
import json
import random

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

SEEN = 8  # in so many texts a word must be said
WORDS = 5000  # of a batch
UNKNOWN, NONE_DUE, SENTENCE = -1, 0, 3
OTHER = 0


def words_of(texts):
    """The words that are said in enough texts."""
    said = collections.Counter()
    for text in texts:
        said.update(set(text["words"]))
    return sorted(word for word, times in said.items() if times >= SEEN)


def number_words(texts, words, due):
    """Puts into each text its words as rows, and what is due at each, both as lists of numbers."""
    number = {word: i + 1 for i, word in enumerate(words)}
    for text in texts:
        text["rows"] = np.array([number.get(word, OTHER) for word in text["words"]], dtype=np.int64)
        text["due"] = np.array(text[due], dtype=np.int64)


class TalkNet(nn.Module):
    def __init__(self, words, word, memory, finds, asked, left_out):
        super().__init__()
        self.words, self.shape, self.left_out = words, {"word": word, "memory": memory, "finds": finds}, left_out
        self.vectors = nn.Embedding(len(words) + 2, word)
        nn.init.normal_(self.vectors.weight, 0, 0.3)
        self.onward = nn.GRU(word, memory, batch_first=True)
        self.back = nn.GRU(word, memory, batch_first=True)
        self.around = nn.Conv1d(word + 2 * memory, finds, 3, padding=1)
        self.wider = nn.Conv1d(finds, finds, 3, padding=2, dilation=2)
        self.out = nn.Linear(finds, asked)

    def forward(self, rows, is_word):
        drop = lambda x, what: F.dropout(x, self.left_out[what], self.training)
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

    def write(self, path):
        json.dump(
            {
                "words": self.words,
                "shape": self.shape,
                "vectors": flat(self.vectors.weight[: len(self.words) + 1]),
                **memory_lists("heard", "again", self.onward),
                **memory_lists("backHeard", "backAgain", self.back),
                **conv_lists("around", self.around),
                **conv_lists("wider", self.wider),
                "out": flat(self.out.weight.t()),
                "outBase": flat(self.out.bias),
            },
            open(path, "w"),
        )


def spans(end, begins_sentence, whole, longest, sentences):
    """
    Pieces of a text of `end` words, which begin at other words each time: long ones (`whole`: how often), or a few sentences by themselves, as
    they are heard one by one.
    """
    if random.random() < whole:
        return [(max(0, start), start + longest) for start in range(-random.randint(0, longest // 2), end, longest)]
    out, start = [], 0
    while start < end:
        stop = start
        for _ in range(random.choice(sentences)):
            stop += 1
            while stop < min(end, start + longest) and not begins_sentence(stop):
                stop += 1
        out.append((start, stop))
        start = stop
    return out


def batched(pieces):
    """Pieces of about the same length, in batches."""
    pieces.sort(key=lambda piece: len(piece[0]) // 8 + random.random() * 0.5)
    out = []
    for piece in pieces:
        if not out or len(out[-1]) * len(piece[0]) > WORDS:
            out.append([])
        out[-1].append(piece)
    random.shuffle(out)
    return out


def batch(pieces, words, leave_out):
    """Rows, what is due, and what is a word and fills up no shorter piece. `leave_out` gives the rows of a piece with some words left out."""
    wide = max(len(piece[0]) for piece in pieces)
    rows = np.full((len(pieces), wide), len(words) + 1, dtype=np.int64)
    due = np.full((len(pieces), wide), UNKNOWN, dtype=np.int64)
    is_word = np.zeros((len(pieces), wide), dtype=np.float32)
    for i, piece in enumerate(pieces):
        end = len(piece[0])
        rows[i, :end] = leave_out(*piece)
        due[i, :end] = piece[1]
        is_word[i, :end] = 1
    return torch.from_numpy(rows), torch.from_numpy(due), torch.from_numpy(is_word)


def loss_by(net, rows, is_word, told, due):
    """How far the net is from what is `told`, where anything is due."""
    losses = F.binary_cross_entropy_with_logits(net(rows, is_word), told, reduction="none").sum(-1)
    counts = (due > UNKNOWN).float()
    return (losses * counts).sum() / counts.sum()
