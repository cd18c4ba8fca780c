"""Puts a changed module into a running process, in the place of the one that everybody has imported already.

Loading everything anew for each change would take seconds; this takes milliseconds. Functions get the new code, collections and
records the new content, in place, so that all who hold them see the change; a number or text is bound anew in each module that took
it by name. What others worked out from it while they were loaded stays as it was, which can hide a change but not make one up; so
whatever is let through is tried again with everything loaded anew (mutant_runs.py).
"""

from __future__ import annotations

import functools
import gc
import sys
import types
from contextlib import suppress
from dataclasses import is_dataclass
from typing import Any

SKIPPED = {
    "__dict__",
    "__weakref__",
    "__doc__",
    "__module__",
    "__annotations__",
    "__dataclass_fields__",
    "__dataclass_params__",
    "__slots__",
}


def graft(module: types.ModuleType, text: str) -> None:
    """Give MODULE the TEXT of its source. Raises whatever loading it raises."""
    new = types.ModuleType(module.__name__)
    new.__dict__.update({name: getattr(module, name) for name in ("__file__", "__package__", "__spec__")})
    exec(compile(text, str(module.__file__), "exec"), new.__dict__)
    seen: set[int] = set()
    users = [one for name, one in list(sys.modules.items()) if name.startswith(("fettlebook.", "test_", "tests."))]
    for name, value in new.__dict__.items():
        if name.startswith("__") or isinstance(value, types.ModuleType):
            continue
        old = module.__dict__.get(name)
        if not _grafted(old, value, seen):
            for user in {id(one): one for one in [module, *users]}.values():
                if user.__dict__.get(name) is old:
                    user.__dict__[name] = value


def forget_results() -> None:
    """Empty every cache of the program but those of figures read from files."""
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper):
            home = getattr(one, "__module__", None) or ""
            if home.startswith("fettlebook.") and not home.startswith("fettlebook.data"):
                one.cache_clear()


def _grafted(old: Any, new: Any, seen: set[int]) -> bool:
    """Make OLD what NEW is, in place; False when that cannot be done and they differ."""
    if old is new or id(old) in seen:
        return True
    if type(old).__name__ != type(new).__name__:
        return False
    if isinstance(old, types.FunctionType):
        seen.add(id(old))
        return _function(old, new, seen)
    if isinstance(old, functools._lru_cache_wrapper):
        return _grafted(old.__wrapped__, new.__wrapped__, seen)
    if isinstance(old, (staticmethod, classmethod)):
        return _grafted(old.__func__, new.__func__, seen)
    if isinstance(old, property):
        return all(_grafted(getattr(old, part), getattr(new, part), seen) for part in ("fget", "fset", "fdel"))
    if isinstance(old, functools.partial):
        return _grafted(old.func, new.func, seen) and old.args == new.args and old.keywords == new.keywords
    if isinstance(old, type):
        seen.add(id(old))
        return _class(old, new, seen)
    if isinstance(old, dict):
        seen.add(id(old))
        return _dictionary(old, new, seen)
    if isinstance(old, list):
        seen.add(id(old))
        if len(old) == len(new):
            new = [a if _grafted(a, b, seen) else b for a, b in zip(old, new, strict=True)]
        old[:] = new
        return True
    if isinstance(old, tuple):
        every = [
            _grafted(a, b, seen) for a, b in zip(old, new, strict=False)
        ]  # each of them, also after one that cannot be
        return len(old) == len(new) and all(every)
    if is_dataclass(old):
        seen.add(id(old))
        for field in type(old).__dataclass_fields__:
            if not _grafted(getattr(old, field, None), value := getattr(new, field, None), seen):
                object.__setattr__(old, field, value)
        return True
    return type(old) is object or bool(
        old == new
    )  # a bare object is a sign that something is not given; it must stay the same one


def _function(old: types.FunctionType, new: types.FunctionType, seen: set[int]) -> bool:
    if len(old.__code__.co_freevars) != len(new.__code__.co_freevars):
        return False
    old.__code__ = new.__code__
    for part in ("__defaults__", "__kwdefaults__"):
        if not _grafted(getattr(old, part), getattr(new, part), seen):
            setattr(old, part, getattr(new, part))
    for mine, theirs in zip(old.__closure__ or (), new.__closure__ or (), strict=True):
        with suppress(ValueError):
            if not _grafted(mine.cell_contents, theirs.cell_contents, seen):
                mine.cell_contents = theirs.cell_contents
    return True


def _class(old: type, new: type, seen: set[int]) -> bool:
    for name, value in list(new.__dict__.items()):
        if name not in SKIPPED and not _grafted(old.__dict__.get(name), value, seen):
            with suppress(AttributeError, TypeError):
                setattr(old, name, value)
    return True


def _dictionary(old: dict[Any, Any], new: dict[Any, Any], seen: set[int]) -> bool:
    content = {key: old[key] if key in old and _grafted(old[key], value, seen) else value for key, value in new.items()}
    old.clear()
    old.update(content)
    return True
