"""What the pantry cannot do; the message is one clear line for a person."""


class PantryError(ValueError):
    """Words that name no time, no allergen or no thing on hand."""
