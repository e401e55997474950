"""What PyTorch makes of a net of talk_net.py (as it ships, its numbers rounded): talk_reference.py NET OUT."""
from torch_nets import Shipped

import json
import sys

import torch
import torch.nn.functional as F

net = Shipped(sys.argv[1])
onward, back = net.memory("heard", "again"), net.memory("backHeard", "backAgain")
around, wider = net.conv("around", net.word + 2 * net.memory_size, 1), net.conv("wider", net.finds, 2)
asked = len(net.kept["outBase"])
vectors, out = net.table("vectors", -1, net.word), net.table("out", net.finds, asked)

told = []
with torch.no_grad():
    for words in net.kept["texts"]:
        x = vectors[[net.number.get(word, 0) for word in words]][None]
        x = torch.cat([x, onward(x)[0], back(x.flip(1))[0].flip(1)], -1)
        y = F.relu(around(x.transpose(1, 2)))
        y = y + F.relu(wider(y))
        odds = y[0].t() @ out + net.table("outBase", asked)
        told.append({"words": words, "odds": [[round(x, 3) for x in odds[:, k].tolist()] for k in range(asked)]})
json.dump(told, open(sys.argv[2], "w"), indent=1)
