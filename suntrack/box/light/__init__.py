"""Light into the box: glass, mirrors, and what they let in for any aim."""
