"""Why a cook takes as long as it does, in figures from the same sums: `account.account` answers.

`books` runs single members with their heat written down, `worths` changes one thing at a time, `unknowns`
spreads one thing at a time, `figures` is what comes out. No words here: the views put it into sentences.
"""
