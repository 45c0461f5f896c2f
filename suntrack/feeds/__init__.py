"""Weather from outside: public services, typical years, and which sky a day is planned for."""
