"""Follows every instruction of every demo property with every fault, large houses whole: `python -m tests.tools.walk_overrides`.

Prints what was gone through and every failure; ends with 1 where there is any. Names of properties limit it.
"""

import sys

from tests.second_method.override_walk import Count
from tests.second_method.test_overrides_walked import POLICIES, RECORDS, walked


def main(names: list[str]) -> int:
    """Walk."""
    total, failures = Count(), 0
    for name in names or RECORDS:
        for words, policy in POLICIES.items():
            count, wrong = walked(name, policy, whole=True)
            total.add(count)
            failures += len(wrong)
            print(f"{name}, {words}: {count}, {len(wrong)} failures", flush=True)
            for each in wrong:
                print(f"  {each}")
    print(f"all: {total}, {failures} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
