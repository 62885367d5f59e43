import numpy as np

from workshops.season.engine.streams import Step, Streams

HERE = Streams(seed=7, batch=0, size=100)


def draws(streams: Streams, *names: str, step: Step = Step.COMES) -> np.ndarray:
    return streams.of(step, *names).random(100)


def test_the_same_name_gives_the_same_luck():
    assert (draws(HERE, "Ana", "2026-12-01") == draws(HERE, "Ana", "2026-12-01")).all()


def test_another_name_date_step_batch_or_seed_gives_other_luck():
    first = draws(HERE, "Ana", "2026-12-01")
    others = [
        draws(HERE, "Bo", "2026-12-01"),
        draws(HERE, "Ana", "2026-12-08"),
        draws(HERE, "Ana", "2026-12-01", step=Step.LOST),
        draws(Streams(7, 1, 100), "Ana", "2026-12-01"),
        draws(Streams(8, 0, 100), "Ana", "2026-12-01"),
    ]
    assert all(abs(np.corrcoef(first, other)[0, 1]) < 0.3 for other in others)
