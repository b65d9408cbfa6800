"""What a declaration holds."""

from baycalc.forms.declare import Answer, HandOver, Note, Quantity, Refusal


def test_a_refusal_names_its_inputs() -> None:
    refusal = Refusal({"start": "Too deep.", "time": "Too short."})
    assert refusal.problems == {"start": "Too deep.", "time": "Too short."}
    assert str(refusal) == "start: Too deep.; time: Too short."


def test_what_may_be_left_out() -> None:
    bare = Quantity(id="load", label="Load", kind="current", units=("A",), default=None)
    assert (bare.low, bare.high, bare.shown, bare.optional) == (None, None, None, False)
    assert Answer(values={}) == Answer(values={}, notes=(), drawing="")
    assert Note(text="Mind the fan.").signal == ""
    assert HandOver(to="fuse", label="Fuse", carries={"load": "load"}).sets == {}
