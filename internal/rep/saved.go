package rep

// SavedMost is who, of all spots but those at fault, made most tackles no deeper
// than the model's limit, and how many; -1 and 0: nobody made one.
func (s *Spread) SavedMost(fault map[int]Error) (spot, n int) {
	spot = -1
	for i, k := range s.Saved {
		if _, at := fault[i]; !at && k > n {
			spot, n = i, k
		}
	}
	return spot, n
}
