"""Ratios side by side in one run; never an absolute time as a pass mark."""
