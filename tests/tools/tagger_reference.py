"""What PyTorch makes of a net of tagger.py (as it ships, its numbers rounded): tagger_reference.py NET OUT."""
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


memory = nn.GRU(W, M, batch_first=True)
memory.weight_ih_l0.data = table("heard", W, 3 * M).t().contiguous()
memory.weight_hh_l0.data = table("again", M, 3 * M).t().contiguous()
memory.bias_ih_l0.data = table("heardBase", 3 * M)
memory.bias_hh_l0.data = table("againBase", 3 * M)
around, wider, widest = conv("around", W + M, 1), conv("wider", C, 2), conv("widest", C, 4)
vectors, borders, out = table("vectors", -1, W), table("borders", -1, W), table("out", C, -1)
number = {word: i + 1 for i, word in enumerate(net["words"])}

told, hidden = [], torch.zeros(1, 1, M)
with torch.no_grad():
    for said, sorts in net["utterances"]:
        x = vectors[[number.get(word, 0) for word in said]] + borders[sorts]
        remembered, hidden = memory(x[None], hidden)
        y = F.relu(around(torch.cat([x, remembered[0]], -1).t()[None]))
        y = y + F.relu(wider(y))
        y = y + F.relu(widest(y))
        odds = y[0].t() @ out + table("outBase", -1)
        best = odds.max(0)[0].topk(4)
        told.append(
            {
                "said": said,
                "borders": sorts,
                "odds": {net["facts"][i]: [round(x, 3) for x in odds[:, i].tolist()] for i in best[1].tolist()},
            }
        )
json.dump(told, open(sys.argv[2], "w"), indent=1)
