"""Heat in the box: convection, balances, and the simulator that walks a day."""
