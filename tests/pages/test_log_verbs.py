"""Whatever an action notes has a sentence, and no sentence waits for what nobody notes."""

import ast
from collections.abc import Iterator
from pathlib import Path

from drives.models import YarnWay

ROOT = Path(__file__).parents[2]
WRITERS = [
    path
    for folder in ("accounts/actions", "drives/actions")
    for path in (ROOT / folder).rglob("*.py")
    if path.name not in ("log.py", "notes.py")  # they hand on what they are given
]
TELLERS = (ROOT / "drives/pages/common/log").glob("*.py")
VERB_AT = {"note_event": 1, "note_circle": 2, "note_drive": 2, "note_blanket": 2, "_note": 2}
WAYS = {"yarn-": YarnWay.values}
"""What follows where a verb is put together."""


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    return (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


def calls(tree: ast.AST) -> Iterator[tuple[str, ast.Call]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func).rpartition(".")[2], node


def noted(source: str) -> set[str]:
    """The verbs of all events that this module notes."""
    found = set()
    for function in functions(ast.parse(source)):
        for name, call in calls(function):
            named = [each.value for each in call.keywords if (name, each.arg) == ("note", "verb")]
            placed = call.args[VERB_AT[name] :][:1] if name in VERB_AT else []
            for verb in named + placed:
                found |= set(values(verb, function))
    return found


def values(verb: ast.expr, function: ast.FunctionDef) -> Iterator[str]:
    """What ``verb`` can be; one that is handed in is found where it is handed in."""
    match verb:
        case ast.Constant(value=str(value)):
            yield value
        case ast.IfExp():
            yield from values(verb.body, function)
            yield from values(verb.orelse, function)
        case ast.JoinedStr(values=[ast.Constant(value=str(begin)), ast.FormattedValue()]):
            yield from (f"{begin}{way}" for way in WAYS[begin])
        case ast.Name(id=name) if name in {each.arg for each in function.args.args}:
            return
        case ast.Name(id=name):
            set_here = [
                node.value
                for node in ast.walk(function)
                if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == name
            ]
            assert set_here, f"{function.name}: where does {name} come from?"
            for assigned in set_here:
                yield from values(assigned, function)
        case _:
            raise AssertionError(f"{function.name}: {ast.unparse(verb)} cannot be read")


def told() -> set[str]:
    """The verbs that have a sentence."""
    return {
        pattern.value.value
        for path in TELLERS
        if path.name != "line.py"
        for pattern in ast.walk(ast.parse(path.read_text()))
        if isinstance(pattern, ast.MatchValue)
        if isinstance(pattern.value, ast.Constant)
        if isinstance(pattern.value.value, str)
    }


def test_every_verb_has_a_sentence_and_every_sentence_a_verb() -> None:
    written = set().union(*(noted(path.read_text()) for path in WRITERS))
    assert len(written) > 50
    assert written == told()


def test_a_verb_is_found_however_it_is_said() -> None:
    source = """
def act(by, left, way):
    note_event(by, "planted", {}, now)
    verb = "left" if left else "removed"
    log.note_blanket(blanket, by, verb, now)
    _note(thing, by, "sent", now)
    note_circle(circle, by, f"yarn-{way}", now)

def _note(thing, by, verb, now):
    Event.objects.note(by=by, verb=verb)
    Event.objects.note(by=by, verb="named")
"""
    ways = {f"yarn-{way}" for way in YarnWay.values}
    assert noted(source) == {"planted", "left", "removed", "sent", "named"} | ways
