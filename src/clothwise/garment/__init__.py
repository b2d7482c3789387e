"""garment"""
