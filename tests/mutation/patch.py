"""Put a mutant into the running program: by exchanging a function's code, or by importing a changed module."""

from __future__ import annotations

import ast
import functools
import gc
import importlib.abc
import importlib.machinery
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from tests.mutation.mutants import Mutant, changed

_KEPT = ("harnesscheck.parts.", "harnesscheck.units", "harnesscheck.paper.")
"""Caches that hold nothing of what is mutated, and cost time to fill."""


def _codes(code: CodeType) -> Iterator[CodeType]:
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            yield constant
            yield from _codes(constant)


class Live:
    """The functions of the program that exist in this process, by file, name and line."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.functions: dict[tuple[str, str, int], list[FunctionType]] = {}
        self.caches: list[Any] = []
        package = str(root / "harnesscheck")
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType):
                code = thing.__code__
                if code.co_filename.startswith(package):
                    key = code.co_filename, code.co_qualname, code.co_firstlineno
                    self.functions.setdefault(key, []).append(thing)
            elif isinstance(thing, functools._lru_cache_wrapper):
                module = getattr(thing, "__module__", "") or ""
                if module.startswith("harnesscheck.") and not module.startswith(_KEPT):
                    self.caches.append(thing)

    def forget(self) -> None:
        """Empty the caches, so that every test reaches what it rests on."""
        for cache in self.caches:
            cache.cache_clear()

    def put(self, mutant: Mutant) -> bool:
        """Exchange the code of the mutant's function, or the values of its module. False when that cannot be done."""
        file = str(self.root / mutant.file)
        code = compile(changed(self.root, mutant), file, "exec", dont_inherit=True)
        if not mutant.warm:
            return self._values(sys.modules[module_name(mutant.file)], code)
        done = False
        for one in _codes(code):
            if one.co_qualname == mutant.within:
                for function in self.functions.get((file, one.co_qualname, one.co_firstlineno), ()):
                    function.__code__ = one
                    done = True
        self.forget()
        return done

    def _values(self, module: ModuleType, code: CodeType) -> bool:
        """Run the changed module beside the living one, and take over its values, wherever they have been imported."""
        new: dict[str, Any] = {k: v for k, v in vars(module).items() if k.startswith("__")}
        exec(code, new)
        ours = str(self.root)
        modules = [m for m in list(sys.modules.values()) if str(getattr(m, "__file__", None)).startswith(ours)]
        for name, value in new.items():
            old = vars(module).get(name)
            if name.startswith("__") or old is value:
                continue
            if isinstance(value, type) and value.__module__ == module.__name__:
                for key, thing in vars(value).items():
                    _same_code(vars(old).get(key), thing)
            elif not _same_code(old, value):
                for other in modules:
                    if vars(other).get(name) is old:
                        setattr(other, name, value)
        self.forget()
        return True


def _same_code(old: Any, new: Any) -> bool:
    """Give a living function the code and the defaults of a new one. False when they are no functions."""
    old, new = (getattr(one, "fget", None) or getattr(one, "__func__", one) for one in (old, new))
    old, new = (getattr(one, "__wrapped__", one) for one in (old, new))
    if not (isinstance(old, FunctionType) and isinstance(new, FunctionType)):
        return False
    if len(old.__code__.co_freevars) == len(new.__code__.co_freevars):
        old.__code__, old.__defaults__, old.__kwdefaults__ = new.__code__, new.__defaults__, new.__kwdefaults__
    return True


def module_name(file: str) -> str:
    """``harnesscheck.checks`` for ``harnesscheck/checks/__init__.py``."""
    parts = Path(file).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


class Changed(importlib.abc.MetaPathFinder):
    """Imports one module with the change in it; all others as they are."""

    def __init__(self, root: Path, mutant: Mutant) -> None:
        self.name = module_name(mutant.file)
        self.path = str(root / mutant.file)
        self.tree = changed(root, mutant)

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """The place of the module, with a loader that compiles the changed tree."""
        if fullname != self.name:
            return None
        loader = _Loader(fullname, self.path, self.tree)
        where = [str(Path(self.path).parent)] if self.path.endswith("__init__.py") else None
        return importlib.util.spec_from_file_location(
            fullname, self.path, loader=loader, submodule_search_locations=where
        )


class _Loader(importlib.machinery.SourceFileLoader):
    def __init__(self, name: str, path: str, tree: ast.Module) -> None:
        super().__init__(name, path)
        self.tree = tree

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.tree, self.path, "exec", dont_inherit=True)


def install(root: Path, mutant: Mutant) -> None:
    """From now on the mutant's module is imported with the change; it must not have been imported yet."""
    finder = Changed(root, mutant)
    if finder.name in sys.modules:
        raise RuntimeError(f"{finder.name} has already been imported")
    sys.meta_path.insert(0, finder)
