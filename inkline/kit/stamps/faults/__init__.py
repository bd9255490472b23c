"""What is wrong with a recipe once its layout and letters are known."""
