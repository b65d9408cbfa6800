"""Measures fault isolation: an answer after an entry, here and in the browser, and a whole plan.

python -m tests.bench.isolation_bench
"""

import statistics
from random import Random
from time import process_time
from typing import Any

from playwright.sync_api import Browser, sync_playwright
from tests.bench.runtime_bench import fresh_page, served_runtime
from tests.browser.conftest import ARGUMENTS, chromium_path
from tests.calc.isolation.against_optimum import PROCEDURES, ratios
from tests.calc.isolation.networks import Json, check, fault, network, result

from baycalc import isolation

SIZES = {"medium": (12, 15), "large": (30, 40)}
CODES = ("P0410", "P0411", "P0412", "P0413")
ROUNDS = 7
CARS = 1000

ANSWER_TIMES = """async ([network, histories, rounds]) => {
    const times = [];
    const { id } = await baybook.python.call({method: "open", network});
    for (let round = 0; round < rounds; round += 1) {
        for (const history of histories) {
            const began = performance.now();
            await baybook.python.call({method: "isolate", id, history});
            times.push(performance.now() - began);
        }
    }
    return times;
}"""


def invented(faults: int, tests: int) -> Json:
    """A procedure of the given size, with knock-ons, codes and set-ups; figures drawn at random."""
    rng = Random(faults)
    names = [f"f{number}" for number in range(faults)]
    listed = [
        fault(
            name,
            rng.uniform(1, 8),
            rng.choice([5, 10, 20, 30, 60]),
            rng.choice([0, 10, 30, 80, 150]),
            sets={code: rng.uniform(0.2, 0.9) for code in rng.sample(CODES, 2)},
            leads_to={names[place - 1]: {"chance": 0.3, "later": 0.1}} if place % 3 == 1 else {},
        )
        for place, name in enumerate(names)
    ]
    setups = {name: {"minutes": 6} for name in ("warm", "open", "raised")}
    checks = [
        check(
            f"t{number}",
            rng.choice([2, 5, 10, 15]),
            {name: rng.uniform(0.6, 0.98) for name in rng.sample(names, rng.randint(1, 6))},
            setup=rng.choice([None, *setups]),
            after=["t0"] if number % 4 == 3 else [],
        )
        for number in range(tests)
    ]
    codes = {code: {"false_alarm": 0.01} for code in CODES}
    return network(listed, checks, codes=codes, setups=setups, recheck_minutes=15, elsewhere=2)


def job(data: Json) -> list[list[Json]]:
    """The histories of one job, entry by entry, as it is followed to its end."""
    rng = Random(1)
    name = isolation.open_network(data)
    history: list[Json] = [{"code": CODES[0], "state": "stored"}, {"codes": "all"}]
    histories = [list(history)]
    while not (answer := isolation.evaluate(name, history))["finished"]:
        history.append(_event(rng, answer["next"]))
        histories.append(list(history))
    return histories


def _event(rng: Random, step: dict[str, Any]) -> Json:
    if step["kind"] == "test":
        return result(step["id"], rng.random() < 0.3)
    if step["kind"] == "outside":
        return {"outside": "found"}
    return {"repair": step["id"]} if step["kind"] == "repair" else {"recheck": "cured"}


def here(data: Json, histories: list[list[Json]]) -> list[float]:
    """CPU time of each answer in this Python [ms]."""
    times = []
    name = isolation.open_network(data)
    for _ in range(ROUNDS):
        for history in histories:
            began = process_time()
            isolation.evaluate(name, history)
            times.append(1000 * (process_time() - began))
    return times


def in_browser(browser: Browser, address: str, data: Json, histories: list[list[Json]]) -> Any:
    """Time of the first answer, and of each one after it, in the browser's Python [ms]."""
    with fresh_page(browser, address) as page:
        first = page.evaluate(ANSWER_TIMES, [data, histories[:1], 1])
        return first[0], page.evaluate(ANSWER_TIMES, [data, histories, ROUNDS])


def line(times: list[float]) -> str:
    times = sorted(times)
    middle = statistics.median(times)
    return f"median {middle:.0f} ms, fastest {times[0]:.0f} ms, slowest {times[-1]:.0f} ms"


def plans() -> None:
    """Print what all plans cost beside the optimum, which their test sees a sample of."""
    plan, guess = ratios(range(PROCEDURES))
    print(
        f"{PROCEDURES} procedures, 5 and 6 faults, 6 and 7 tests: plan {statistics.mean(plan):.4f}"
        f" of the optimum on average (goal 1.005), {max(plan):.4f} at worst (goal 1.03);"
        f" guess {statistics.mean(guess):.2f}"
    )


def main() -> None:
    """Measure and print."""
    with sync_playwright() as playwright, served_runtime() as (http, _):
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=ARGUMENTS)
        for name, (faults, tests) in SIZES.items():
            data = invented(faults, tests)
            histories = job(data)
            print(
                f"fault isolation, {name}: {faults} faults, {tests} tests, {len(histories)} entries"
            )
            print(f"  an answer here, CPU time: {line(here(data, histories))}")
            first, times = in_browser(browser, http, data, histories)
            print(f"  in the browser, after the start: first {first:.0f} ms, then {line(times)}")
            began = process_time()
            isolation.plan(data)
            print(f"  the whole plan here, CPU time: {process_time() - began:.1f} s")
        browser.close()
    began = process_time()
    isolation.simulation(invented(*SIZES["medium"]), CARS)
    print(
        f"{CARS} simulated cars, three ways each, medium, CPU time: {process_time() - began:.0f} s"
    )
    plans()


if __name__ == "__main__":
    main()
