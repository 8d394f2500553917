"""How fast and how good plans are, beside the targets: python -m tests.bench.planning [rows…] [--seeds N]."""
