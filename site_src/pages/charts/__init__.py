"""Charts on paper that answer a whole kind of question with a straight edge."""
