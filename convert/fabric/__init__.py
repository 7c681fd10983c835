"""The fabric: executes instruction trees and knows what each row works into and what it makes."""
