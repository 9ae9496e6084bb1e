"""Whether readings belong to these papers: the pack id, and every file that the list of readings was made from."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from harnesscheck.job import Job
from harnesscheck.trouble.readings import ReadingsFile

DIGITS = 16
"""Hexadecimal digits of a SHA-256 that stand in the head of a readings file: 64 bits, nothing alike by accident."""
_FILE = re.compile(r"(.+?) ([0-9a-fA-F]{8,64})(?:; |$)")


def files_of(job: Job) -> str:
    """Every file of a job with the first digits of its SHA-256: ``airframe.yaml 1f0c...; jumper.yaml 77ab...``."""
    return "; ".join(f"{file.name} {file.sha256[:DIGITS]}" for file in sorted(job.files, key=lambda file: file.name))


def differences(job: Job, file: ReadingsFile, pack: str | None = None) -> list[str]:
    """What says that the readings belong to other papers than these, one sentence each."""
    found = []
    own = file.head.get("pack id", "")
    if pack and own != pack:
        found.append(f"these readings carry {'pack id ' + own if own else 'no pack id'}, not {pack}: other papers")
    now = {each.name: each.sha256 for each in job.files}
    said = file.head.get("file hash", "").lower()
    if said and not now.get(job.path.name, "").startswith(said):
        found.append(f"the job file has changed since the list was made (its hash does not start with {said[:16]}): "
                     "the ids may name other readings")  # fmt: skip
    listed = file.head.get("files", "")
    if listed:
        found += _changed(now, listed)
    return found


def _changed(now: Mapping[str, str], listed: str) -> Iterator[str]:
    then = {name: digest.lower() for name, digest in _FILE.findall(listed)}
    if "; ".join(f"{name} {digest}" for name, digest in _FILE.findall(listed)) != listed:
        yield "the files of the head cannot be read (name and hash, with '; ' between): nobody knows what they were"
        return
    for name in sorted(then.keys() | now.keys()):
        if name not in then:
            yield f"{name} belongs to the job now, and did not when the list was made: the ids may name other readings"
        elif name not in now:
            yield f"{name} belonged to the job when the list was made, not now: the ids may name other readings"
        elif not now[name].startswith(then[name]):
            yield f"{name} has changed since the list was made: ids and limits may be others"
