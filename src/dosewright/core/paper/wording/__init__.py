"""The sentences of findings, one file for each room that finds. `SENTENCES` maps a finding's code to its sentence with {facts} in it."""
