"""The ink engine: hand, nib, edge and paper turn an exact drawing into a drawn one."""
