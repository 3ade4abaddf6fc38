"""Lines of a diary that begin with a place that hurts: several sentences, a lift, a side ahead, a rating put right.

What each says was told by hand, by someone who reads the language.
"""

import pytest

LINES = [
    ("elbow during bench 3, after 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    (
        "Ellbogen beim Bankdrücken 3, danach 2",
        [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")],
    ),
    ("coude pendant le squat 3, après 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("codo durante el press banca 3, después 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("gomito durante panca 3, dopo 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("cotovelo durante o supino 3, depois 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("elleboog tijdens bankdrukken 3, na 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("albue under bænk 3, efter 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    ("armbåge under bänk 3, efter 2", [("elbow", "unknown", 3, "during"), ("elbow", "unknown", 2, "after")]),
    (
        "right biceps before 3, after 3. elbow after 2",
        [("upper arm", "right", 3, "before"), ("upper arm", "right", 3, "after"), ("elbow", "unknown", 2, "after")],
    ),
    (
        "højre biceps før 3, efter 3. albue efter 2",
        [("upper arm", "right", 3, "before"), ("upper arm", "right", 3, "after"), ("elbow", "unknown", 2, "after")],
    ),
    ("right elbow: 3. Forearm after: 1", [("elbow", "right", 3, "after"), ("forearm", "unknown", 1, "after")]),
    ("legs very sore after Thursday. elbow after: 1", [("elbow", "unknown", 1, "after")]),
    ("mega ømme lår efter i torsdags. albue efter: 1", [("elbow", "unknown", 1, "after")]),
    ("Elbow after: R 2. L 1", [("elbow", "right", 2, "after"), ("elbow", "left", 1, "after")]),
    ("nast. rano łokieć P 2/10", [("elbow", "right", 2, "next morning")]),
    ("elbow after: 2 (fixed: 3)", [("elbow", "unknown", 3, "after")]),
    ("albue efter: 2 (ret: 3)", [("elbow", "unknown", 3, "after")]),
    ("Ellbogen danach: 2 (berichtigt: 3)", [("elbow", "unknown", 3, "after")]),
    ("elbow during bench 60", []),
    ("elbow during bench 5 reps", []),
    ("elbow after: 14", []),
]


@pytest.mark.parametrize(("line", "expected"), LINES)
def test_a_line_that_begins_with_a_place(read, line, expected):
    logs = read({"notes.txt": f"Bo Ek 2026\n\nMon 2 March\nsquat 60x5\n{line}\n"})
    assert [(one.site, one.side, one.rating, one.moment) for one in logs.pain] == expected
    assert [one.load_kg for one in logs.sets] == [60]
    assert expected or any(line.split()[-1].strip("reps") in one.value for one in logs.rejected)
