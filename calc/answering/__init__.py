"""How it is answered: what an answer is, its uncertainty, words for the hand."""
