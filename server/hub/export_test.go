package hub

// HoldCosts keeps costs from being played until what it gives is called.
func (h *Hub) HoldCosts() (free func()) {
	h.costs <- struct{}{}
	return func() { <-h.costs }
}
