"""Whether a schedule keeps its project's rules, in plain Python, sharing no code with the core's posting."""


def broken(project, schedule):
    """All rules a schedule breaks, as text; none if it is sound."""
    return [*_lengths(project, schedule), *_lags(project, schedule), *_overdrawn(project, schedule)]


def _lengths(project, schedule):
    for name, work in project.works.items():
        if name not in schedule.spans:
            if work.skipped is None:
                yield f"{name} is left out"
            continue
        start, end = schedule.spans[name]
        mode = work.modes[schedule.modes[name]]
        if not mode.length <= end - start <= (mode.most or mode.length):
            yield f"{name} takes {end - start}"
        if mode.starts is not None and start not in mode.starts:
            yield f"{name} starts at {start}"


def _lags(project, schedule):
    for lag in project.lags:
        if lag.earlier in schedule.spans and lag.later in schedule.spans:
            gap = schedule.spans[lag.later][0] - schedule.spans[lag.earlier][1 if lag.from_end else 0]
            if gap < lag.least or (lag.most is not None and gap > lag.most):
                yield f"{lag.later} is {gap} after {lag.earlier}"


def _overdrawn(project, schedule):
    for resource, capacity in project.resources.items():
        for t in range(max((end for _, end in schedule.spans.values()), default=0)):
            there = capacity if isinstance(capacity, int) else int(capacity[t])
            taken = sum(
                project.works[name].modes[schedule.modes[name]].uses.get(resource, 0)
                for name, (start, end) in schedule.spans.items()
                if start <= t < end
            )
            if taken > there:
                yield f"{resource} at {t}: {taken} of {there}"
