"""The food: how heat gets into it, when it is done, when it is safe.  Pure."""
