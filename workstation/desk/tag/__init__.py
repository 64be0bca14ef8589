"""The Tag room: one person says what happened, play by play, with the hands on the keyboard."""
