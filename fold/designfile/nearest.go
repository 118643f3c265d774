package designfile

// Nearest returns the word of list that word is most likely a misspelling of, "" if none is near. The command line asks
// about its own words in the same way as the reader about the design's.
func Nearest(word string, list []string) string { return nearest(word, list) }
