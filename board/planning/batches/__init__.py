"""The batches a plan uses: what loads need, what stands, what is made when, in which pots, and by whom."""
