package main

// shots are all pictures that the chore takes, in the order of the README's
// tour of the product.
var shots = []shot{}
