"""Who needs protection, who has it, and the cheapest way to give it.

``gfci_required(outlet, code)``, ``afci_required``, ``tamper_resistance_required`` and
``weather_resistance_required`` answer for one outlet; ``trace_protection(tree, code)`` follows breakers and
devices down a circuit's tree; ``cheapest_protection(tree, code)`` says what to fit where.
"""
