"""The bench: weights for the scales at hand, trace bottles, dosing a reservoir, topping it up, checking the injector.

Plain functions of plain numbers, the unit in every name; nothing here knows a recipe's chemistry.
"""
