"""Stands in for scipy.special, which nothing here needs and which brings a BLAS library along: scipy.ndimage and
scipy.fft only take these names from it, for functions that are not called here."""


def _left_out(*_: object) -> None:
    raise NotImplementedError("scipy.special is left out of the packaged program")


cosdg = sindg = loggamma = poch = _left_out
