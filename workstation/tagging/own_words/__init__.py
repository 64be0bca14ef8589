"""A staff's own words: what it tags of a play beside what the rules of football need.

``definition`` says what a word is, ``files`` reads and writes the definition files, ``following`` works out what is
known of every play from what was said, ``line`` finds the words in a typed line.
"""
