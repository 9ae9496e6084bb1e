"""The planner: from an airframe, the equipment and the mated pair to open, to a jumper that does no harm."""
