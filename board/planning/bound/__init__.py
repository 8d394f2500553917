"""What no plan can beat: bounds that rise with the work put into them."""
