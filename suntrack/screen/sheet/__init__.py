"""The day sheet: one page, its charts, its picture, the calendar."""
