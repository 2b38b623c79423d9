"""The Block: weighing in what comes off."""
