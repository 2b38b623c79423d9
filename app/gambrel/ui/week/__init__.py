"""The Week: the owner's sheet on the screen."""
