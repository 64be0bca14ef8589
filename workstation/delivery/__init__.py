"""What leaves the workstation: segments and sequences, stills, reports, sheets and packs."""
