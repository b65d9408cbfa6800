"""Files of columns: separators, decimal commas, headers, units, mistakes with their line."""

import pytest

from baycalc.records.table import RecordError, read_table

PLAIN = [[0.0, 0.5, 1.0], [0.1, 0.25, 0.9]]


def columns(text: str) -> list[list[float]]:
    table = read_table(text)
    return [table.numbers(place) for place in range(len(table.names))]


@pytest.mark.parametrize(
    "text",
    [
        "0,0.1\n0.5,0.25\n1,0.9\n",
        "0;0,1\n0,5;0,25\n1;0,9",
        "0\t0.1\n0.5\t0.25\n1\t0.9",
        "0 0.1\n0.5   0.25\n1 0.9",
        "0 | 0.1\n0.5 | 0.25\n1 | 0.9",
        "\ufeffTime,Signal\r\n0,0.1\r\n0.5,0.25\r\n1,0.9\r\n",
        "made on 5.6.2025\n\nTime (s);Signal [V]\n0;0.1\n0.5;0.25\n1;0.9",
        "t;u\ns;V\n0,0;0,1\n0,5;0,25\n1,0;0,9\n",
        '"Time","Signal"\n"0","0.1"\n"0.5","0.25"\n"1","0.9"\n',
        "0:00.0;0.1\n0:00.5;0.25\n0:01.0;0.9",
        "0;1e-1\n5e-1;2.5E-1\n1;.9",
    ],
)
def test_the_same_record_in_many_ways(text: str) -> None:
    assert columns(text) == PLAIN


@pytest.mark.parametrize(
    ("text", "names", "units"),
    [
        ("0;1\n1;2", ("column 1", "column 2"), ("", "")),
        ("Time (s);O2 B1S1 [V]\n0;1\n1;2", ("Time", "O2 B1S1"), ("s", "V")),
        ("t;u\nms;mV\n0;1\n1;2", ("t", "u"), ("ms", "mV")),
        ("# file 7\nt,u,n\n0,1,7\n1,2,8", ("t", "u", "n"), ("", "", "")),
    ],
)
def test_header(text: str, names: tuple[str, ...], units: tuple[str, ...]) -> None:
    table = read_table(text)
    assert (table.names, table.units) == (names, units)


def test_times_of_day_and_dates() -> None:
    assert columns("12:00:00;1\n12:00:01.5;2")[0] == [43200.0, 43201.5]
    first, last = columns("2025-11-26 12:00:00;1\n2025-11-26 12:00:01.5;2")[0]
    assert last - first == 1.5


def test_columns_by_name_start_and_number() -> None:
    table = read_table("Time;Front;Rear\n0;1;2\n1;2;3")
    places = [table.place(wanted, 1) for wanted in ("", "time", "REAR", "3", "Fr")]
    assert places == [1, 0, 2, 2, 1]
    with pytest.raises(RecordError, match="There is no column “Middle”; there are Time, Front, "):
        table.place("Middle", 1)


def test_mistakes_are_told_with_their_line() -> None:
    table = read_table("t;u\n0;1\n1;--\n\n2;3\n3\n4;?\n5;!\n")
    with pytest.raises(RecordError) as raised:
        table.numbers(1)
    assert str(raised.value) == (
        "Column u, line 3: expected a number, got “--”; line 6: expected a number, got “”; line 7: "
        "expected a number, got “?”; and 1 more."
    )
    assert table.numbers(0) == [0, 1, 2, 3, 4, 5]


@pytest.mark.parametrize("text", ["", "hello", "1\n2\n3", "a;b\nc;d"])
def test_no_record(text: str) -> None:
    with pytest.raises(RecordError, match="No line of this record holds two numbers"):
        read_table(text)
