"""The files a person writes, read with every fault named by file and key."""
