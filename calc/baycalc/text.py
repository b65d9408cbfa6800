"""How figures and sentences are written, one way everywhere: per cent, time, money, sentences."""


def percent(share: float, digits: int = 0) -> str:
    """Write a share as per cent; what is neither none nor all is never written as if it were.

    Parameters
    ----------
    share : float
        Share, from 0 to 1 [-]
    digits : int
        Decimals, but for none and all [-]

    Returns
    -------
    str
        For example ``68 %`` (the space does not break), ``under 1 %``, ``over 99 %``
    """
    if share in (0.0, 1.0):
        return f"{100.0 * share:.0f}\u00a0%"
    least = 0.01 / 10**digits
    if share < least:
        return f"under {100.0 * least:g}\u00a0%"
    if share > 1.0 - least:
        return f"over {100.0 * (1.0 - least):g}\u00a0%"
    return f"{100.0 * share:.{digits}f}\u00a0%"


def duration(minutes: float) -> str:
    """Write a time of work.

    Parameters
    ----------
    minutes : float
        Time, zero or more [min]

    Returns
    -------
    str
        For example ``20 min``, ``2 h``, ``1 h 15 min`` (the spaces do not break); a time under
        ten minutes that is not whole keeps one decimal
    """
    if minutes < 9.95 and abs(minutes - round(minutes)) >= 0.05:
        return f"{minutes:.1f}\u00a0min"
    hours, rest = divmod(round(minutes), 60)
    parts = [f"{hours}\u00a0h"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}\u00a0min")
    return "\u00a0".join(parts)


def money(amount: float, currency: str) -> str:
    """Write an amount of money in whole units.

    Parameters
    ----------
    amount : float
        Amount, in the currency's unit [1]
    currency : str
        The currency's sign, such as ``$``, or its name, such as ``EUR``; may be empty

    Returns
    -------
    str
        For example ``$1,250``, ``−$20``, ``EUR 1,250``
    """
    between = "\u00a0" if currency[-1:].isalpha() else ""
    whole = round(amount)
    return f"{'−' if whole < 0 else ''}{currency}{between}{abs(whole):,}"


def capital(text: str) -> str:
    """Write a text with a capital in front and its end as it is."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    """Write a text as a sentence: a capital in front, a full stop behind where none ends it."""
    return capital(text) + ("" if text.endswith((".", "?", "!", ":")) else ".")
