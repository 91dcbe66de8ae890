"""What a profile of rules keeps back over the planned dive. Rule G5."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Reserve:
    """Minutes for every diver at his depth over the dive with its ascent."""

    profile: str
    extra_min: int
    source: str
    tag: str


RESERVES: Final[dict[str, Reserve]] = {
    item.profile: item
    for item in (
        Reserve(
            "29 CFR 1910",
            0,
            "29 CFR 1910.425(c)(3), (c)(4)(iv): the dive with its decompression",
            "P, M",
        ),
        Reserve(
            "46 CFR 197",
            60,
            "46 CFR 197.340(a), (b): the dive and one hour; taken at the diver's depth for every diver",
            "P, own",
        ),
        Reserve(
            "USN",
            0,
            "USN Diving Manual Rev 4 Change A, p. 8-18: bottom and decompression, the standby extra",
            "P",
        ),
    )
}
"""By profile. Local rules stand above them."""
