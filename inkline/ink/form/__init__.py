"""The forms that letters take: no two drawings of one share a skeleton."""
