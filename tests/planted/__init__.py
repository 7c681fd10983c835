"""Mistakes planted in correct patterns: does the check report each where it stands?"""
