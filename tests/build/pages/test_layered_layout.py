"""Layers of a drawing: edges lead downwards, the order is kept, nothing overlaps in a row."""

import itertools

from hypothesis import given
from hypothesis import strategies as st

from baybook.pages.layered_layout import Layout, lay_out

Graph = tuple[list[str], list[tuple[str, str]]]


@st.composite
def graphs(draw: st.DrawFn) -> Graph:
    """Nodes and edges, rings and edges from a node to itself included."""
    nodes = [f"n{number}" for number in range(draw(st.integers(1, 9)))]
    ends = st.sampled_from(nodes)
    return nodes, draw(st.lists(st.tuples(ends, ends), max_size=16))


@st.composite
def trees_of_paths(draw: st.DrawFn) -> Graph:
    """Nodes and edges without any ring."""
    nodes, edges = draw(graphs())
    return nodes, [(one, two) for one, two in edges if one < two]


def width(node: str) -> float:
    """Return the room that a node takes; a bend of a long edge takes less."""
    return 0.35 if "@" in node else 1.0


def rows(layout: Layout) -> list[list[str]]:
    """Return the nodes of each layer from left to right."""
    found: dict[int, list[str]] = {}
    for node, layer in layout.layer.items():
        found.setdefault(layer, []).append(node)
    return [sorted(row, key=layout.across.__getitem__) for row in found.values()]


@given(trees_of_paths())
def test_without_rings_every_edge_leads_downwards(graph: Graph) -> None:
    nodes, edges = graph
    layout = lay_out(nodes, edges)
    assert all(layout.layer[start] < layout.layer[end] for start, end in edges)


@given(graphs())
def test_with_rings_no_edge_stays_in_its_layer(graph: Graph) -> None:
    nodes, edges = graph
    layout = lay_out(nodes, edges)
    assert all(layout.layer[start] != layout.layer[end] for start, end in edges if start != end)


@given(graphs())
def test_every_node_has_a_place_and_none_stands_outside(graph: Graph) -> None:
    nodes, edges = graph
    layout = lay_out(nodes, edges)
    assert set(nodes) <= layout.layer.keys() == layout.across.keys()
    assert min(layout.layer.values()) == 0
    assert all(layout.across[node] >= width(node) / 2 - 1e-9 for node in layout.across)


@given(graphs())
def test_nothing_overlaps_within_a_row(graph: Graph) -> None:
    layout = lay_out(*graph)
    for row in rows(layout):
        for one, two in itertools.pairwise(row):
            apart = layout.across[two] - layout.across[one]
            assert apart >= (width(one) + width(two)) / 2 - 1e-9


@given(graphs())
def test_a_long_edge_bends_once_in_each_layer_that_it_passes(graph: Graph) -> None:
    nodes, edges = graph
    layout = lay_out(nodes, edges)
    for start, end in edges:
        if start == end:
            continue
        first, last = layout.layer[start], layout.layer[end]
        step = 1 if last > first else -1
        passed = [layout.layer[bend] for bend in layout.bends[(start, end)]]
        assert passed == list(range(first + step, last, step))


@given(graphs())
def test_the_same_graph_gives_the_same_drawing(graph: Graph) -> None:
    assert lay_out(*graph) == lay_out(*graph)


def test_a_chain_stands_straight() -> None:
    layout = lay_out(["a", "b", "c"], [("a", "b"), ("b", "c")])
    assert [layout.layer[node] for node in "abc"] == [0, 1, 2]
    assert len({layout.across[node] for node in "abc"}) == 1


def test_crossings_are_undone_by_the_order() -> None:
    """Two pairs that would cross in the author's order (Sugiyama, Tagawa and Toda 1981)."""
    layout = lay_out(["a", "b", "y", "x"], [("a", "x"), ("b", "y")])
    left_above = layout.across["a"] < layout.across["b"]
    left_below = layout.across["x"] < layout.across["y"]
    assert left_above == left_below


def test_a_part_that_only_feeds_stands_just_above_what_it_feeds() -> None:
    layout = lay_out(["a", "b", "c", "feed"], [("a", "b"), ("b", "c"), ("feed", "c")])
    assert layout.layer["feed"] == 1


def test_nothing_to_draw() -> None:
    assert lay_out([], []) == Layout({}, {}, {})
