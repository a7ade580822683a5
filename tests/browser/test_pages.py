"""Every page in a real browser, as a learner has it: it runs by itself and shows no error; each console answers keys,
typing, pointer and the switch of units with what jetlib says; an exercise is answered wrong and right and a prediction
locked; it fits a projector, 200 %, a tablet and a phone; axe-core finds nothing serious in the light and dark theme.

All pages are turned to in one tab, as a learner does: JupyterLab is loaded once.
"""

from pathlib import Path

import pytest
from access import APART, faults_of_size, serious_findings
from learning import first_exercise, first_prediction, practise, predict
from moves import moved_like
from twins import twins

from jetlib.screen.consoles.diagnosis_console import DiagnosisConsole

LESSONS = Path(__file__).parents[2] / "lessons"
STEMS = [path.stem for path in sorted(LESSONS.glob("*.ipynb"))]
#: Width and height, and how large the smallest words of pictures must be, CSS pixels; at 200 % each is two on screen.
WINDOWS = {"projector": (1024, 768, 8.0), "zoom 200 %": (640, 512, 6.0)}
LAPTOP = (1366, 768)
TOUCHED, LEAST_TOUCHED = {"tablet": (820, 1180), "phone": (390, 844)}, 8.9
#: The pictures of the trainer's page are for a projector: a phone shows them small.
SMALL_PRINT = {"classroom": 5.0}

#: Pictures in motion: a list of what moves.
RUNNING = """() => document.getAnimations().filter(each => each.playState === 'running')
    .map(each => each.animationName).filter(name => name?.startsWith('jl-'))"""

pytestmark = [pytest.mark.browser, pytest.mark.filterwarnings("default")]


@pytest.mark.parametrize("stem", STEMS)
def test_page_runs_answers_and_can_be_read_by_all(stem, tab):
    tab.turn_to(stem)
    assert tab.errors() == []
    assert tab.page.evaluate(RUNNING) == [], "the system asks for less motion, and a picture moves"
    assert serious_findings(tab) == []
    tab.picture(tab.theme())
    alike = twins(stem)
    for twin, said in zip(alike, moved_like(tab, alike), strict=True):
        # A diagnosis names causes and their shares, which read the same in either system.
        least = 1 if isinstance(twin, DiagnosisConsole) else 2
        assert len(set(said)) > least, "nothing that was moved changed anything"
    if (exercise := first_exercise(stem)) is not None:
        practise(tab, exercise)
    if (asked := first_prediction(stem)) is not None:
        predict(tab, asked)
    tab.use_theme("Dark" if tab.theme() == "Light" else "Light")
    assert serious_findings(tab, rules=["color-contrast"]) == [], "a theme changes colors and nothing else"
    tab.picture(tab.theme())
    with tab.other_windows() as look_through:
        look_through(*LAPTOP)
        assert tab.page.evaluate(APART) == [], "a control and its picture are not in sight together"
        for name, (*size, least) in WINDOWS.items():
            look_through(*size)
            assert faults_of_size(tab, words=least) == {}, name
        for name, size in TOUCHED.items():
            look_through(*size, touched=True)
            tab.picture(name)
            assert faults_of_size(tab, words=SMALL_PRINT.get(stem, LEAST_TOUCHED), finger=True) == {}, name
    assert tab.errors() == []
    assert tab.problems == []
