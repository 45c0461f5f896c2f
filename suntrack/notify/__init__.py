"""The ways to call a cook: desktop, terminal, sound, and far away."""
