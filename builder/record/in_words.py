"""Sheets and steps as a person calls them: by titles and words, not by the names of the libraries."""


def sheet_of(job: dict, sheet_id: str) -> dict | None:
    """The sheet with this id; None where the job has none."""
    return next((sheet for sheet in job["sheets"] if sheet["id"] == sheet_id), None)


def item_words(job: dict, sheet: dict) -> str:
    """The item that a sheet is worked for."""
    title = job["items"][sheet["kind"]][sheet["item"]]["title"]
    return f"{sheet['item']} {title}"


def sheet_words(job: dict, sheet_id: str) -> str:
    """Task and item of a sheet; its id where the job has no such sheet."""
    sheet = sheet_of(job, sheet_id)
    return f"{job['tasks'][sheet['task']]['title']}, {item_words(job, sheet)}" if sheet else sheet_id


def step_words(job: dict, sheet_id: str, name: str | None) -> str | None:
    """What a step says, to stand inside a sentence; its name where the job has no such step."""
    sheet = sheet_of(job, sheet_id)
    steps = job["tasks"][sheet["task"]]["steps"] if sheet else []
    return next((step["say"].removesuffix(".") for step in steps if step["name"] == name), name)
