"""The Sequence room: find plays, put them in an order, and export them."""
