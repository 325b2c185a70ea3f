"""A small server extension: answers to a slider leave at once.

The kernel answers a slider with several small messages. By default the operating
system holds the later ones back until the earlier are acknowledged (Nagle's
algorithm), which costs tens of milliseconds a move. TCP_NODELAY turns that off for
the socket between browser and kernel. Nothing else in the server is touched, and if
the server's insides have changed, it runs as it always did.
"""

from __future__ import annotations

import functools
from typing import Any

__all__ = ["make_quick"]


def make_quick(handler: type) -> None:
    """Let ``handler.open`` turn TCP_NODELAY on first; once is enough."""
    opened = handler.open
    if getattr(opened, "is_quick", False):
        return

    @functools.wraps(opened)
    async def open_quickly(self, *args: Any, **kwargs: Any) -> None:
        try:
            self.set_nodelay(True)
        except Exception as error:  # a slower socket still is a socket
            self.log.debug("bedcalc: the socket stays as it was: %s", error)
        await opened(self, *args, **kwargs)

    open_quickly.is_quick = True
    handler.open = open_quickly


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "bedcalc.lab.quick_socket"}]


def _load_jupyter_server_extension(server: Any) -> None:
    try:
        from jupyter_server.services.kernels.websocket import KernelWebsocketHandler

        make_quick(KernelWebsocketHandler)
    except Exception as error:  # another server than the one this was tried with
        server.log.info("bedcalc: the server's socket stays as it was: %s", error)
