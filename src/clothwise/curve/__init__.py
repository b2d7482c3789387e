"""curve"""
