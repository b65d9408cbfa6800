"""A procedure's network as a Bayesian network of pgmpy: an independent exact inference.

Everything is written out anew from the definition of the model, in tables: faults with their
own chance and noisy-OR knock-ons, a second slice of faults after a repair, codes, observations,
the proof, and counters that hold the number of faults present to three at most.
"""

import warnings
from importlib import import_module
from itertools import product
from math import prod
from typing import Any

import numpy as np

Json = dict[str, Any]
MOST = 3
MISSED = 0.01
"""Chance that the proof misses a complaint of which nothing has been repaired."""


def of_pgmpy(module: str, name: str) -> Any:
    """Give a class of pgmpy; it takes seconds to import, so only a test that needs it does."""
    with warnings.catch_warnings():  # pgmpy 1.1 imports modules of its own that it will drop
        warnings.simplefilter("ignore", FutureWarning)
        return getattr(import_module(f"pgmpy.{module}"), name)


class Bayes:
    """The Bayesian network of one procedure and one history, built up node by node."""

    def __init__(self, data: Json) -> None:
        self.data = data
        self.net = of_pgmpy("models", "DiscreteBayesianNetwork")()
        self.table = of_pgmpy("factors.discrete", "TabularCPD")
        self.evidence: dict[str, int] = {}
        self.names = [fault["id"] for fault in data["faults"]]
        self.weights = [fault["often"] for fault in data["faults"]]
        share = data["outside"]["share"]
        if share:
            self.names.append("outside")
            self.weights.append(share / (1.0 - share) * sum(self.weights))
        self.slice = 0
        self.changed: str | None = None
        self.met: dict[str, str] = {}
        self._first_slice()

    def node(self, name: str, parents: list[str], chances: list[float]) -> str:
        """Add a yes-or-no node with its chance of yes for each combination of its parents."""
        self.net.add_node(name)
        self.net.add_edges_from([(parent, name) for parent in parents])
        yes = np.array(chances)
        sizes = [self.net.get_cardinality(parent) for parent in parents]
        self.net.add_cpds(
            self.table(name, 2, np.vstack([1.0 - yes, yes]).reshape(2, -1), parents, sizes)
        )
        return name

    def noisy_or(self, name: str, causes: dict[str, float], leak: float) -> str:
        parents = [parent for parent, chance in causes.items() if chance > 0.0]
        chances = [
            1.0 - (1.0 - leak) * prod(1.0 - causes[p] for p, on in zip(parents, row) if on)  # noqa: B905
            for row in product((0, 1), repeat=len(parents))
        ]
        return self.node(name, parents, chances)

    def fault(self, name: str) -> str:
        return f"{name}@{self.slice}"

    def _first_slice(self) -> None:
        whole = sum(self.weights)
        for name in self.names:
            self.net.add_node(self.fault(name))
            self.net.add_edges_from(
                (self.fault(cause["id"]), self.fault(name))
                for cause in self.data["faults"]
                if name in cause["leads_to"]
            )
        for name, weight in zip(self.names, self.weights, strict=True):
            causes = {
                self.fault(cause["id"]): cause["leads_to"][name]["chance"]
                for cause in self.data["faults"]
                if name in cause["leads_to"]
            }
            self._fault_table(name, causes, self.data["base"] * weight / whole)
        self._count(at_least=1)

    def _fault_table(self, name: str, causes: dict[str, float], own: float) -> None:
        rows = [
            1.0 - (1.0 - own) * prod(1.0 - c for c, on in zip(causes.values(), row) if on)  # noqa: B905
            for row in product((0, 1), repeat=len(causes))
        ]
        yes = np.array(rows)
        self.net.add_cpds(
            self.table(
                self.fault(name), 2, np.vstack([1.0 - yes, yes]), list(causes), [2] * len(causes)
            )
        )

    def _count(self, at_least: int) -> None:
        """Chain counters over the faults of a slice, and hold the last one to the bounds."""
        before: str | None = None
        for name in self.names:
            counter = f"count:{self.fault(name)}"
            parents = [self.fault(name)] if before is None else [before, self.fault(name)]
            sizes = [2] if before is None else [MOST + 2, 2]
            table = np.zeros((MOST + 2, int(np.prod(sizes))))
            for column, row in enumerate(product(*map(range, sizes))):
                table[min(sum(row), MOST + 1), column] = 1.0
            self.net.add_edges_from([(parent, counter) for parent in parents])
            self.net.add_cpds(self.table(counter, MOST + 2, table, parents, sizes))
            before = counter
        assert before is not None
        inside = [float(at_least <= number <= MOST) for number in range(MOST + 2)]
        self.evidence[self.node(f"inside@{self.slice}", [before], inside)] = 1

    def code_chances(self, code: str) -> dict[str, float]:
        faults = self.data["faults"]
        chances = {fault["id"]: fault["sets"].get(code, 0.0) for fault in faults}
        if "outside" in self.names:
            whole = sum(fault["often"] for fault in faults)
            chances["outside"] = sum(f["often"] * chances[f["id"]] for f in faults) / whole
        return chances

    def learn(self, event: Json) -> None:
        """Take in one event of the history."""
        if "code" in event:
            causes = {self.fault(name): c for name, c in self.code_chances(event["code"]).items()}
            leak = self.data["codes"][event["code"]]["false_alarm"]
            node = self.noisy_or(f"{event['code']}@{self.slice}", causes, leak)
            self.evidence[node] = int(event["state"] == "stored")
        elif "test" in event:
            self._test(event)
        elif "repair" in event:
            self._repair(event["repair"])
        else:
            self._recheck(event["recheck"])

    def _test(self, event: Json) -> None:
        test = next(item for item in self.data["tests"] if item["id"] == event["test"])
        seen = next(i for i in test["observations"] if i["id"] == event["observation"])
        causes = {self.fault(name): chance for name, chance in seen["shows"].items()}
        name = f"{test['id']}.{seen['id']}@{self.slice}"
        node = self.noisy_or(name, causes, seen["false_alarm"])
        if isinstance(event["result"], dict):
            abnormal, normal = event["result"]["likelihood"]
            top = max(abnormal, normal)
            node = self.node(f"reading:{name}", [node], [normal / top, abnormal / top])
            self.evidence[node] = 1
        elif event["result"] != "skipped":
            self.evidence[node] = int(event["result"] == "abnormal")

    def _repair(self, repaired: str) -> None:
        before = {name: self.fault(name) for name in self.names}
        self.met[repaired] = before[repaired]
        links = {f["id"]: f["leads_to"] for f in self.data["faults"]}.get(repaired, {})
        if self.changed is None:
            self.changed = before[repaired]
        else:
            self.changed = self.noisy_or(
                f"changed@{self.slice}", {self.changed: 1.0, before[repaired]: 1.0}, 0.0
            )
        self.slice += 1
        for name in self.names:
            if name == repaired:
                self.node(self.fault(name), [], [0.0])
            elif links.get(name, {}).get("later", 0.0) > 0.0:
                later = links[name]["later"]
                self.node(
                    self.fault(name), [before[repaired], before[name]], [0.0, 1.0, later, 1.0]
                )
            else:
                self.node(self.fault(name), [before[name]], [0.0, 1.0])
        self._count(at_least=0)

    def _recheck(self, result: str) -> None:
        missed = dict.fromkeys(self.names, 1.0)
        for code in self.data["codes"]:
            for name, chance in self.code_chances(code).items():
                missed[name] *= 1.0 - chance
        causes = {self.fault(name): 1.0 - missed[name] for name in self.names}
        seen = self.noisy_or(f"seen@{self.slice}", causes, 0.0)
        if self.changed is None:
            node = self.node(f"recheck@{self.slice}", [], [1.0 - MISSED])
        else:
            node = self.node(
                f"recheck@{self.slice}",
                [self.changed, seen],
                [1.0 - MISSED, 1.0 - MISSED, 0.0, 1.0],
            )
        self.evidence[node] = int(result == "not cured")

    def weights_of_sets(self) -> dict[frozenset[str], float]:
        """Give the chance of each set of faults now, given all events."""
        here = [self.fault(name) for name in self.names]
        free = [node for node in here if node not in self.evidence]
        answer = of_pgmpy("inference", "VariableElimination")(self.net).query(
            free, evidence=self.evidence, show_progress=False
        )
        values = answer.values
        return {
            frozenset(
                node.split("@")[0] for node, on in zip(answer.variables, row, strict=True) if on
            ): float(values[row])
            for row in product((0, 1), repeat=len(free))
        }

    def chance(self, node: str) -> float:
        """Give the chance of one node, given all events."""
        answer = of_pgmpy("inference", "VariableElimination")(self.net).query(
            [node], evidence=self.evidence, show_progress=False
        )
        return float(answer.values[1])
