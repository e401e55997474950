"""What PyTorch makes of a net of tagger.py (as it ships, its numbers rounded): tagger_reference.py NET OUT."""
from torch_nets import Shipped

import json
import sys

import torch
import torch.nn.functional as F

net = Shipped(sys.argv[1])
memory = net.memory("heard", "again")
around = net.conv("around", net.word + net.memory_size, 1)
wider, widest = net.conv("wider", net.finds, 2), net.conv("widest", net.finds, 4)
vectors, borders = net.table("vectors", -1, net.word), net.table("borders", -1, net.word)
out = net.table("out", net.finds, -1)

told, hidden = [], torch.zeros(1, 1, net.memory_size)
with torch.no_grad():
    for said, sorts in net.kept["utterances"]:
        x = vectors[[net.number.get(word, 0) for word in said]] + borders[sorts]
        remembered, hidden = memory(x[None], hidden)
        y = F.relu(around(torch.cat([x, remembered[0]], -1).t()[None]))
        y = y + F.relu(wider(y))
        y = y + F.relu(widest(y))
        odds = y[0].t() @ out + net.table("outBase", -1)
        best = odds.max(0)[0].topk(4)
        told.append(
            {
                "said": said,
                "borders": sorts,
                "odds": {net.kept["facts"][i]: [round(x, 3) for x in odds[:, i].tolist()] for i in best[1].tolist()},
            }
        )
json.dump(told, open(sys.argv[2], "w"), indent=1)
