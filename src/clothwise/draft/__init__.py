"""draft"""
