"""Items: one drawn question with its key, its distractors and its worked solution, all of them proved."""
