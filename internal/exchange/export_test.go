package exchange

import "slices"

// StrayMeanings are explanations of columns that do not exist.
func StrayMeanings() (stray []string) {
	for name := range kitMeanings {
		if !slices.Contains(allColumns(), name) {
			stray = append(stray, name)
		}
	}
	return stray
}
