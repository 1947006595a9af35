"""Runs the rules over a dwelling and folds what they find into standings.

findings = evaluate(house, code)          verdicts and operands
standings(house, findings)                per room: ready to cover, hold open, not walked
line_of(finding, code)                    one finding in words
explain(rule, ref, house, code)           one finding with its reckoning
"""

from server.readiness.evaluate import Finding, due_rules, evaluate, judge, judge_again
from server.readiness.explain import Explanation, Line, explain, line_of
from server.readiness.judged import Judged
from server.readiness.standing import JOB, RoomStanding, Standing, standing_of, standings

__all__ = [
    "JOB", "Explanation", "Finding", "Judged", "Line", "RoomStanding", "Standing", "due_rules", "evaluate", "explain", "judge", "judge_again",
    "line_of", "standing_of", "standings",
]  # fmt: skip
