"""The groups under which a book shows its procedures, in the order in which a machine comes into service."""

GROUPS: dict[str, str] = {
    "arrive": "Bringing a machine in",
    "leaks": "Leaks",
    "oil": "Oil",
    "controls": "Controls, drives and slides",
    "level": "Level and true",
    "make": "Making and mending small parts",
    "heat": "Annealing, hardening and tempering",
    "teach": "Teaching",
}
