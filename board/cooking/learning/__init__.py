"""What a house's finished cooks teach about its pits and its cuts.

`runs` puts past cooks through the model, `evidence` holds each against it, `gaussian` shares out the
difference among everything that could explain it, `doubt` finds records that are wrong and how far loads
scatter, `evenness` what first and last pieces tell; `learn` puts it together, `lesson` is what it says of a
cut on a pit.
"""
