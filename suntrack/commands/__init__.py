"""The commands, one file each: arguments in, text or JSON out, an exit status back."""
