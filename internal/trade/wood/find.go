package wood

import "strings"

// Find returns the species that a person means by an id or a printed name, whatever its case:
// "eastern-white-pine", "Eastern white pine".
func Find(name string) (Species, bool) {
	id := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "-")
	if s, ok := species[id]; ok {
		return s, true
	}
	for _, known := range IDs() {
		if strings.EqualFold(species[known].Name, name) {
			return species[known], true
		}
	}
	return Species{}, false
}

// Names returns the printed names of all species, in the order of their ids, lower-case as a person
// writes them in a piece file.
func Names() []string {
	ids := IDs()
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = strings.ToLower(species[id].Name)
	}
	return names
}
