"""The game file: what is tagged, the operations that change it, storage, and the layout of film, shots and plays."""
