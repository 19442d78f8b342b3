"""Daily care: what a bird weighs, what it is fed, what should give pause.

Weights and food are grams, energy is kilojoules that the bird can use, times are days.
"""
