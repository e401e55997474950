"""What the scripts that learn nets with PyTorch, or reckon with them, have in common. Import it first: it says how many threads there are."""
import argparse
import json
import os
import random

os.environ["OPENBLAS_NUM_THREADS"] = "1"
import numpy as np
import torch
import torch.nn as nn


def asked():
    """The file of rows and the one to write; learning goes the same way each time."""
    ask = argparse.ArgumentParser()
    ask.add_argument("rows")
    ask.add_argument("out")
    torch.set_num_threads(1)
    torch.manual_seed(1)
    random.seed(1)
    np.random.seed(1)
    return ask.parse_args()


def learn(name, net, rounds, rate, warm, batches, loss_of):
    """Goes down `loss_of` a batch, for some rounds over `batches()`: slowly for the first `warm` steps, and slower and slower later."""
    adam = torch.optim.AdamW(net.parameters(), lr=rate, weight_decay=1e-3)
    step = 0
    for round_ in range(rounds):
        all_ = batches()
        sum_ = 0.0
        for some in all_:
            for group in adam.param_groups:
                group["lr"] = rate * min(1, (step + 1) / warm) * max(0.02, 1 - step / (rounds * len(all_)))
            step += 1
            loss = loss_of(some)
            adam.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(net.parameters(), 1.0)
            adam.step()
            sum_ += loss.item()
        print(f"{name}: round {round_ + 1} of {rounds}, loss {sum_ / len(all_):.4f}", flush=True)


def flat(tensor):
    """The numbers of a tensor as a list."""
    return tensor.detach().float().contiguous().flatten().tolist()


def conv_lists(name, layer):
    """A layer of convolutions as two lists: places by what comes in by what is found."""
    return {name: flat(layer.weight.permute(2, 1, 0)), f"{name}Base": flat(layer.bias)}


def memory_lists(heard, again, gru):
    """A memory as four lists."""
    return {
        heard: flat(gru.weight_ih_l0.t()),
        f"{heard}Base": flat(gru.bias_ih_l0),
        again: flat(gru.weight_hh_l0.t()),
        f"{again}Base": flat(gru.bias_hh_l0),
    }


class Shipped:
    """A net out of such lists again, as it ships."""

    def __init__(self, path):
        self.kept = json.load(open(path))
        self.word, self.memory_size, self.finds = (self.kept["shape"][name] for name in ("word", "memory", "finds"))
        self.number = {word: i + 1 for i, word in enumerate(self.kept["words"])}

    def table(self, name, *shape):
        return torch.tensor(self.kept[name]).reshape(*shape)

    def conv(self, name, wide, apart):
        layer = nn.Conv1d(wide, self.finds, 3, padding=apart, dilation=apart)
        layer.weight.data = self.table(name, 3, wide, self.finds).permute(2, 1, 0).contiguous()
        layer.bias.data = self.table(f"{name}Base", self.finds)
        return layer

    def memory(self, heard, again):
        size = self.memory_size
        gru = nn.GRU(self.word, size, batch_first=True)
        gru.weight_ih_l0.data = self.table(heard, self.word, 3 * size).t().contiguous()
        gru.weight_hh_l0.data = self.table(again, size, 3 * size).t().contiguous()
        gru.bias_ih_l0.data = self.table(f"{heard}Base", 3 * size)
        gru.bias_hh_l0.data = self.table(f"{again}Base", 3 * size)
        return gru
