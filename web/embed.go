// Package frontend holds the built front end, so that the program is one file.
//
// The folder dist is made by "make web" and is not kept in the repository, but for the page that
// says so.
package frontend

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Files returns the built front end: index.html and its assets, or only placeholder.html when the front
// end has not been built.
func Files() fs.FS {
	files, err := fs.Sub(dist, "dist")
	if err != nil {
		panic("frontend: the embedded folder has no dist: " + err.Error())
	}
	return files
}
