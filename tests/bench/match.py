"""Many sheets of the kind ``match``, each checked against an independent kernel. Not a unit test.

    python tests/bench/match.py --sheets 500

Of each sheet just one candidate (of four sets the part's own) is as the kernel draws the part, and no two candidates or
pictorials are equal. Prints what failed, how many were made and refused, and how many were compared.
Exit code 1 if any failed. Parts whose views take the kernel seconds are left out.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

from sheetgen.refusals import RefusedError

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.outside import test_match

SLOW = {"bored-tee", "cross-drilled-boss", "pipe-clamp", "slant-cut-spigot", "half-round-saddle"}
WAYS = (test_match.one_of, test_match.whole_of_one, test_match.four_of)


def main() -> int:
    """Check so many sheets."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheets", type=int, default=500)
    parser.add_argument("--first-seed", type=int, default=1)
    args = parser.parse_args()
    names = [name for name in test_match.BANK if name not in SLOW]
    made, refused, failed, k, compared = Counter[str](), Counter[str](), 0, 0, Counter[str]()
    while made.total() < args.sheets and k < 4 * args.sheets:
        name, way = names[k % len(names)], WAYS[(k // len(names) + k) % len(WAYS)]
        seed, style, k = args.first_seed + k, test_match.STYLES[k // 2 % 2], k + 1
        try:
            compared += test_match.check(name, seed, way, style)
            made[way.__name__] += 1
        except RefusedError:
            refused[way.__name__] += 1
        except AssertionError as error:
            failed += 1
            print(name, seed, way.__name__, error)
    print(f"made {dict(made)}, refused {dict(refused)}, failed {failed}")
    print("compared: " + ", ".join(f"{count} {what}" for what, count in compared.items()))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
