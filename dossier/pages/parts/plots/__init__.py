"""Plots of the dossier: plain values in, two inline SVG drawings out; only `pen.py` imports Matplotlib."""
