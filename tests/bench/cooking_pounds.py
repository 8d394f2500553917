"""Prints rules by the pound beside the model, from half to double a usual piece.

python -m tests.bench.cooking_pounds
"""

from tests.cooking.pounds import told


def main() -> None:
    """Print the table."""
    print(f"{'cut':18s} {'kg':>5s}  {'model':>7s}  {'rule':>13s}  rule set right at the usual mass")
    for row in told():
        low, high = row.rule_h
        wrong = 100 * (row.agreed_h / row.model_h - 1)
        print(
            f"{row.cut:18s} {row.kg:5.1f}  {row.model_h:5.1f} h  {low:4.1f} - {high:4.1f} h  "
            f"{row.agreed_h:5.1f} h, {wrong:+4.0f} %"
        )


if __name__ == "__main__":
    main()
