"""What PyTorch makes of a net of border_net.py (as it ships, its numbers rounded): border_reference.py NET OUT."""
import json
import sys

import torch
import torch.nn as nn
import torch.nn.functional as F

net = json.load(open(sys.argv[1]))
W, M, C = (net["shape"][name] for name in ("word", "memory", "finds"))
table = lambda name, *shape: torch.tensor(net[name]).reshape(*shape)


def conv(name, wide, apart):
    layer = nn.Conv1d(wide, C, 3, padding=apart, dilation=apart)
    layer.weight.data = table(name, 3, wide, C).permute(2, 1, 0).contiguous()
    layer.bias.data = table(name + "Base", C)
    return layer


def memory(heard, again):
    gru = nn.GRU(W, M, batch_first=True)
    gru.weight_ih_l0.data = table(heard, W, 3 * M).t().contiguous()
    gru.weight_hh_l0.data = table(again, M, 3 * M).t().contiguous()
    gru.bias_ih_l0.data = table(heard + "Base", 3 * M)
    gru.bias_hh_l0.data = table(again + "Base", 3 * M)
    return gru


onward, back = memory("heard", "again"), memory("backHeard", "backAgain")
around, wider = conv("around", W + 2 * M, 1), conv("wider", C, 2)
vectors, out = table("vectors", -1, W), table("out", C, 2)
number = {word: i + 1 for i, word in enumerate(net["words"])}

told = []
with torch.no_grad():
    for words in net["texts"]:
        x = vectors[[number.get(word, 0) for word in words]][None]
        x = torch.cat([x, onward(x)[0], back(x.flip(1))[0].flip(1)], -1)
        y = F.relu(around(x.transpose(1, 2)))
        y = y + F.relu(wider(y))
        odds = y[0].t() @ out + table("outBase", 2)
        sentence, clause = ([round(x, 3) for x in odds[:, k].tolist()] for k in (0, 1))
        told.append({"words": words, "sentence": sentence, "clause": clause})
json.dump(told, open(sys.argv[2], "w"), indent=1)
