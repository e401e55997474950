"""Learns the net of calls (src/hives/call-net.ts) from rows of fit-calls.mjs: call_net.py ROWS OUT [--without HALF]."""
import argparse
import collections
import json
import os

os.environ["OPENBLAS_NUM_THREADS"] = "1"
import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

REACH, OWN, NEAR = 32, 2, 8
WORD, FINDS, CLOSE, HIDDEN = 24, 32, 64, 64
KINDS = ["bare", "letter", "line", "local", "maybe", "name", "phrase", "spot"]
SEEN = 10  # so often a word must stand near a call to have numbers of its own
ROUNDS, BATCH, RATE, LEFT_OUT = 4, 256, 2e-3, 0.15

ask = argparse.ArgumentParser()
ask.add_argument("rows")
ask.add_argument("out")
ask.add_argument("--without", default="none")
asked = ask.parse_args()
torch.set_num_threads(1)
torch.manual_seed(1)
np.random.seed(1)

rows = [row for row in map(json.loads, open(asked.rows)) if str(row["half"]) != asked.without]
seen = collections.Counter()
for row in rows[::3]:
    seen.update(row["before"][:10] + row["behind"][:10] + row["own"])
NONE, OTHER = 0, 1
words = sorted(word for word, times in seen.items() if times >= SEEN)
number = {word: i + 2 for i, word in enumerate(words)}


def placed(row):
    before = [number.get(w, OTHER) for w in row["before"][:REACH]][::-1]
    behind = [number.get(w, OTHER) for w in row["behind"][:REACH]]
    own = [number.get(w, OTHER) for w in row["own"][:OWN]]
    pad = lambda n: [NONE] * n
    return pad(REACH - len(before)) + before + own + pad(OWN - len(own)) + behind + pad(REACH - len(behind))


class Net(nn.Module):
    def __init__(self):
        super().__init__()
        self.vectors = nn.Embedding(len(words) + 2, WORD, padding_idx=NONE)
        nn.init.normal_(self.vectors.weight, 0, 0.3)
        with torch.no_grad():
            self.vectors.weight[NONE] = 0
        self.kinds = nn.Embedding(len(KINDS), WORD)
        self.around = nn.Conv1d(WORD + 2, FINDS, 5, padding=2)
        self.wider = nn.Conv1d(FINDS, FINDS, 3, padding=2, dilation=2)
        self.widest = nn.Conv1d(FINDS, FINDS, 3, padding=4, dilation=4)
        self.near = nn.Linear((2 * NEAR + OWN) * WORD, CLOSE)
        self.made = nn.Linear(CLOSE + 4 * FINDS + WORD, HIDDEN)
        self.out = nn.Linear(HIDDEN, 1)
        place = torch.zeros(2 * REACH + OWN, 2)
        place[:REACH, 0] = torch.linspace(-1, 0, REACH)
        place[REACH + OWN :, 0] = torch.linspace(0, 1, REACH)
        place[REACH : REACH + OWN, 1] = 1
        self.register_buffer("place", place)

    def forward(self, x, kind):
        if self.training:
            x = torch.where((torch.rand(x.shape) < LEFT_OUT) & (x > 0), torch.full_like(x, OTHER), x)
        said = self.vectors(x)
        near = F.relu(self.near(said[:, REACH - NEAR : REACH + OWN + NEAR].reshape(len(x), -1)))
        y = F.relu(self.around(torch.cat([said, self.place.expand(len(x), -1, -1)], -1).transpose(1, 2)))
        y = y + F.relu(self.wider(y))
        y = y + F.relu(self.widest(y))
        most = lambda part: part.max(-1)[0]
        found = [near, most(y[:, :, :REACH]), most(y[:, :, REACH + OWN :]), y[:, :, REACH], y[:, :, REACH + 1]]
        z = F.dropout(torch.cat([*found, self.kinds(kind)], -1), 0.3, self.training)
        return self.out(F.dropout(F.relu(self.made(z)), 0.3, self.training))[:, 0]


X = np.array([placed(row) for row in rows], dtype=np.int16)
K = np.array([KINDS.index(row["kind"]) for row in rows])
Y = np.array([row["y"] for row in rows], dtype=np.float32)
net = Net()
adam = torch.optim.AdamW(net.parameters(), lr=RATE, weight_decay=1e-3)
steps, step = ROUNDS * -(-len(X) // BATCH), 0
for round_ in range(ROUNDS):
    order, sum_ = np.random.permutation(len(X)), 0.0
    for at in range(0, len(X), BATCH):
        some = order[at : at + BATCH]
        for group in adam.param_groups:
            group["lr"] = RATE * min(1, (step + 1) / 200) * max(0.03, 1 - step / steps)
        step += 1
        odds = net(torch.from_numpy(X[some].astype(np.int64)), torch.from_numpy(K[some]))
        loss = F.binary_cross_entropy_with_logits(odds, torch.from_numpy(Y[some]))
        adam.zero_grad()
        loss.backward()
        adam.step()
        sum_ += loss.item() * len(some)
    print(f"calls without {asked.without}: round {round_ + 1} of {ROUNDS}, loss {sum_ / len(X):.4f}", flush=True)

flat = lambda t: t.detach().float().contiguous().flatten().tolist()
conv = lambda layer: flat(layer.weight.permute(2, 1, 0))
json.dump(
    {
        "words": words,
        "shape": {"word": WORD, "finds": FINDS, "hidden": HIDDEN},
        "vectors": flat(net.vectors.weight[1:]),
        "kinds": flat(net.kinds.weight),
        "around": conv(net.around),
        "aroundBase": flat(net.around.bias),
        "wider": conv(net.wider),
        "widerBase": flat(net.wider.bias),
        "widest": conv(net.widest),
        "widestBase": flat(net.widest.bias),
        "near": flat(net.near.weight.t()),
        "nearBase": flat(net.near.bias),
        "made": flat(net.made.weight.t()),
        "madeBase": flat(net.made.bias),
        "out": flat(net.out.weight),
        "outBase": flat(net.out.bias),
    },
    open(asked.out, "w"),
)
