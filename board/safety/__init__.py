"""What keeps people well: the cautions and the published limits behind them."""
