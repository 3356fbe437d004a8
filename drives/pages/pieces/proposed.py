"""What is proposed about a piece, as pages show it."""

from drives.readings.next_steps import NextStep
from drives.words.next_steps import next_step_words


def proposed(step: NextStep) -> list[str]:
    """Sentences that fit whoever has the piece, and everybody else."""
    return next_step_words(
        step.do,
        step.squares,
        in_work=step.in_work,
        first=step.first.name if step.first else "",
        waiting=step.waiting,
        day=step.day,
    )
