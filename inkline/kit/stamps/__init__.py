"""The stamps of a kit: their names, their places, and what each holds, exactly."""
