"""The Review room: findings, notes, remarks, drawing, comparing and the summary."""
