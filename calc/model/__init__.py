"""The things in the hand, as the car record knows them."""
