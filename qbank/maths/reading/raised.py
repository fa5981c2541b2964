"""Raised and lowered characters and ready-made fractions: what each stands for."""

from __future__ import annotations

__all__ = ["SUBSCRIPTS", "SUPERSCRIPTS", "VULGAR"]

#: raised character -> plain one
SUPERSCRIPTS = dict(
    zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾ᐟᵃᵇᶜᵈᵉᶠᵍʰⁱʲᵏˡᵐⁿᵒᵖʳˢᵗᵘᵛʷˣʸᶻᶿ", "0123456789+-()/abcdefghijklmnoprstuvwxyzθ", strict=True)
)
#: lowered character -> plain one
SUBSCRIPTS = dict(zip("₀₁₂₃₄₅₆₇₈₉ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ", "0123456789aehijklmnoprstuvx", strict=True))
#: fraction in one character -> numerator/denominator
VULGAR = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅐": "1/7",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅑": "1/9",
    "⅒": "1/10",
}
