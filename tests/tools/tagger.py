"""Learns the tagger (src/clauses/tagger.ts) from what tagger-data.mjs gives, a row a line: tagger.py ROWS OUT."""
from torch_nets import asked, conv_lists, flat, learn, memory_lists

import collections
import json
import random
import re

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

WORD, MEMORY, FINDS = 56, 128, 128
BORDERS = 6
SEEN, TOLD = 6, 16  # so often a word must be said, a fact be told
ROUNDS, RATE, WARM = 8, 3e-3, 150
LONGEST, TOKENS = 320, 5000  # words of a stretch of a note at most, and of a batch
LEFT_OUT = {"words": 0.06, "numbers": 0.15, "memory": 0.25, "found": 0.2}

files = asked()

with open(files.rows) as lines:
    newer = re.compile(json.loads(next(lines))["newer"])  # facts of these fields are told by some phrases that do not say so
    all_rows = [json.loads(line) for line in lines]
told, said = collections.Counter(), collections.Counter()
for row in all_rows:
    said.update(row["tokens"])
    told.update(fact for _, _, fact, is_sure in row["marks"] if is_sure)
    told.update(row["among"])
facts = sorted(fact for fact, times in told.items() if times >= TOLD)
words = sorted(word for word, times in said.items() if times >= SEEN)
OTHER, NONE = 0, len(words) + 1
number = {word: i + 1 for i, word in enumerate(words)}
fact_number = {fact: i for i, fact in enumerate(facts)}
is_newer = np.array([bool(newer.match(fact.split("=")[0])) for fact in facts])
SORTS = {"note": 0, "clause": 1, "phrase": 2}

for row in all_rows:
    row["words"] = np.array([number.get(token, OTHER) for token in row["tokens"]], dtype=np.int64)
    row["borders"] = np.array(row["borders"], dtype=np.int64)
    row["marks"] = [(a, b, fact_number[f], s) for a, b, f, s in row["marks"] if f in fact_number]
    row["among"] = [fact_number[f] for f in row["among"] if f in fact_number]


def stretches(row):
    """Utterances that are learned together: the memory begins anew with each stretch."""
    out = []
    for utterance in row["utterances"]:
        if not out or utterance[1] - out[-1][0][0] > LONGEST:
            out.append([])
        out[-1].append(utterance)
    return [(row, some) for some in out]


class Net(nn.Module):
    def __init__(self):
        super().__init__()
        self.vectors, self.borders = nn.Embedding(len(words) + 2, WORD), nn.Embedding(BORDERS, WORD)
        nn.init.normal_(self.vectors.weight, 0, 0.3)
        nn.init.normal_(self.borders.weight, 0, 0.3)
        # how densely a sort of rows tells facts says nothing about notes: theirs is none
        self.sorts = nn.Embedding(len(SORTS), WORD, padding_idx=SORTS["note"])
        self.memory = nn.GRU(WORD, MEMORY, batch_first=True)
        self.around = nn.Conv1d(WORD + MEMORY, FINDS, 3, padding=1)
        self.wider = nn.Conv1d(FINDS, FINDS, 3, padding=2, dilation=2)
        self.widest = nn.Conv1d(FINDS, FINDS, 3, padding=4, dilation=4)
        self.out = nn.Linear(FINDS, len(facts))
        with torch.no_grad():
            self.out.bias.fill_(-5)

    def forward(self, rows, borders, sorts, places, is_word):
        """Words (`rows`), borders and sorts of stretches; `places`: all their utterances one behind the other, gaps between, where `is_word` is 0."""
        drop = lambda x, what: F.dropout(x, LEFT_OUT[what], self.training)
        x = drop(self.vectors(rows) + self.borders(borders) + self.sorts(sorts)[:, None], "numbers")
        x = torch.cat([x, drop(self.memory(x)[0], "memory")], -1)
        x = (x.reshape(-1, x.shape[-1])[places] * is_word[:, None]).t()[None]
        y = F.relu(self.around(x)) * is_word
        y = (y + drop(F.relu(self.wider(y)), "numbers")) * is_word
        y = (y + drop(F.relu(self.widest(y)), "numbers")) * is_word
        return self.out(drop(y[0].t()[is_word > 0], "found"))


GAP = 4  # as far as the widest layer looks: no utterance sees another


def batch(some):
    wide = max(utterances[-1][1] - utterances[0][0] for _, utterances in some)
    rows = np.full((len(some), wide), NONE, dtype=np.int64)
    borders = np.zeros((len(some), wide), dtype=np.int64)
    places, is_word, tells, counts = [], [], [], []
    among, first_word = [], 0
    sorts = np.array([SORTS[row["sort"]] for row, _ in some], dtype=np.int64)
    for i, (row, utterances) in enumerate(some):
        first, end = utterances[0][0], utterances[-1][1]
        own = row["words"][first:end]
        rows[i, : end - first] = np.where(np.random.rand(len(own)) < LEFT_OUT["words"], OTHER, own)
        borders[i, : end - first] = row["borders"][first:end]
        for a, b in utterances:
            places.append(np.concatenate([i * wide + np.arange(a, b) - first, np.zeros(GAP, dtype=np.int64)]))
            is_word.append(np.concatenate([np.ones(b - a, dtype=np.float32), np.zeros(GAP, dtype=np.float32)]))
        tell = np.zeros((end - first, len(facts)), dtype=np.float32)
        count = np.ones_like(tell)
        for a, b, fact, is_sure in row["marks"]:
            (tell if is_sure else count)[max(a, first) - first : max(b, first) - first, fact] = is_sure
        if row["sort"] == "phrase":
            count[:, is_newer] = 0
        count[:, row["among"]] = 0
        count[tell > 0] = 1
        among += [(first_word, first_word + end - first, fact) for fact in row["among"]]
        first_word += end - first
        tells.append(tell)
        counts.append(count)
    return [torch.from_numpy(x) for x in (rows, borders, sorts)] + [
        torch.from_numpy(np.concatenate(x)) for x in (places, is_word, tells, counts)
    ] + [among]


def loss_among(odds, among):
    """Facts that one of some words tells, nobody knows which: the odds of the plainest count, smoothly."""
    words = torch.cat([torch.arange(a, b) for a, b, _ in among])
    facts = torch.cat([torch.full((b - a,), fact) for a, b, fact in among])
    which = torch.cat([torch.full((b - a,), i) for i, (a, b, _) in enumerate(among)])
    sums = torch.zeros(len(among)).index_add(0, which, odds[words, facts].exp())
    return F.softplus(-sums.log()).sum()


net = Net()
data = [one for row in all_rows for one in stretches(row)]
size = lambda one: one[1][-1][1] - one[1][0][0]


def batches():
    """Stretches of about the same length, as many as make up the words of a batch."""
    out, most = [], 0
    for one in sorted(data, key=lambda one: size(one) // 30 + random.random() * 0.5):
        most = max(most, size(one)) if out else size(one)
        if not out or (len(out[-1]) + 1) * most > TOKENS:
            out.append([])
            most = size(one)
        out[-1].append(one)
    random.shuffle(out)
    return out


def loss_of(some):
    rows, borders, sorts, places, is_word, tells, counts, among = batch(some)
    odds = net(rows, borders, sorts, places, is_word)
    loss = (F.binary_cross_entropy_with_logits(odds, tells, reduction="none") * counts).sum()
    if among:
        loss = loss + loss_among(odds, among)
    return loss / len(tells)


learn("tagger", net, ROUNDS, RATE, WARM, batches, loss_of)
json.dump(
    {
        "facts": facts,
        "words": words,
        "shape": {"word": WORD, "memory": MEMORY, "finds": FINDS},
        "vectors": flat(net.vectors.weight[:NONE]),
        "borders": flat(net.borders.weight),
        **memory_lists("heard", "again", net.memory),
        **conv_lists("around", net.around),
        **conv_lists("wider", net.wider),
        **conv_lists("widest", net.widest),
        "out": flat(net.out.weight.t()),
        "outBase": flat(net.out.bias),
    },
    open(files.out, "w"),
)
