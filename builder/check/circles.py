"""Holds that wait for each other in a circle: none of them could ever be released."""

from builder.check.placed import PlacedTask


def circles(found: list[dict], tasks: list[PlacedTask]) -> list[list[tuple[str, str]]]:
    """Holds that need each other in a circle, each circle once, as (sheet, hold)."""
    holds = {task.key: [placed.name for placed in task.holds] for task in tasks}
    edges: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for sheet in found:
        earlier: list[tuple[str, str]] = []
        for hold in holds[sheet["task"]]:
            edges[sheet["id"], hold] = list(earlier)
            earlier.append((sheet["id"], hold))
    task_of = {sheet["id"]: sheet["task"] for sheet in found}
    for sheet in found:
        for hold, needs in sheet["needs"].items():
            for need in needs:
                whole = [need["hold"]] if need["hold"] else holds[task_of[need["sheet"]]]
                edges[sheet["id"], hold] += [(need["sheet"], one) for one in whole]
    return _circles_of(edges)


def _circles_of(edges: dict) -> list[list]:
    state: dict = {}
    circles_found = []
    for start in edges:
        if start in state:
            continue
        trail, stack = [start], [iter(edges[start])]
        state[start] = "open"
        while stack:
            follower = next(stack[-1], None)
            if follower is None:
                state[trail.pop()] = "closed"
                stack.pop()
            elif state.get(follower) == "open":
                circles_found.append(trail[trail.index(follower):])
            elif follower not in state:
                state[follower] = "open"
                trail.append(follower)
                stack.append(iter(edges[follower]))
    return circles_found
