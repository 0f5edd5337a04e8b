"""What is asynchronous, for those who are not."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

Found = TypeVar("Found")


def awaited(coroutine: Coroutine[Any, Any, Found]) -> Found:
    """What it comes to, worked out in a thread of its own: the caller's may run an event loop already."""
    with ThreadPoolExecutor(max_workers=1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
