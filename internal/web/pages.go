package web

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

// pages serves the built front end. Its files are read once, when the server is made.
type pages struct {
	files map[string]page // by path without the leading slash
	start page            // what every address of the page shows first
	cards page            // what the addresses of bench cards show first
}

type page struct {
	data        []byte
	contentType string
	etag        string
	cache       string
}

// assetFolder is where the front end's build puts files that have a hash of their content in their name.
const assetFolder = "assets/"

// readPages reads the front end. Without an index.html the start is placeholder.html, which says
// how to build the front end.
func readPages(files fs.FS) (*pages, error) {
	p := &pages{files: map[string]page{}}
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, name)
		p.files[name] = newPage(name, data)
		return err
	})
	if err != nil {
		return nil, err
	}
	for _, name := range []string{"index.html", "placeholder.html"} {
		if start, ok := p.files[name]; ok {
			p.start, p.cards = start, start
			if cards, ok := p.files["cards.html"]; ok {
				p.cards = cards
			}
			return p, nil
		}
	}
	return nil, errors.New("there is neither index.html nor placeholder.html")
}

func newPage(name string, data []byte) page {
	sum := sha256.Sum256(data)
	p := page{data: data, contentType: mediaType(name), etag: `W/"` + hex.EncodeToString(sum[:12]) + `"`, cache: "no-cache"}
	if strings.HasPrefix(name, assetFolder) {
		p.cache = "public, max-age=31536000, immutable"
	}
	return p
}

// mediaTypes has the types of what a front end is made of, so that they do not depend on the tables of the
// machine.
var mediaTypes = map[string]string{
	".css": "text/css; charset=utf-8", ".html": "text/html; charset=utf-8", ".ico": "image/x-icon",
	".js": "text/javascript; charset=utf-8", ".json": "application/json", ".map": "application/json",
	".png": "image/png", ".svg": "image/svg+xml", ".txt": "text/plain; charset=utf-8", ".wasm": "application/wasm",
	".webmanifest": "application/manifest+json", ".woff2": "font/woff2",
}

func mediaType(name string) string {
	extension := path.Ext(name)
	if known, ok := mediaTypes[extension]; ok {
		return known
	}
	if known := mime.TypeByExtension(extension); known != "" {
		return known
	}
	return "application/octet-stream"
}

// ServeHTTP sends a file, or the start page for an address that only the page in the browser knows.
func (p *pages) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		writeProblem(w, http.StatusMethodNotAllowed, "pages can only be read")
		return
	}
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	found, ok := p.files[name]
	switch {
	case ok:
	case path.Ext(name) != "" || strings.HasPrefix(name, assetFolder):
		// A missing file is told as missing: a page in place of a script would only confuse.
		writeProblem(w, http.StatusNotFound, "there is no file "+r.URL.Path)
		return
	case name == "cards" || strings.HasPrefix(name, "cards/"):
		found = p.cards
	default:
		found = p.start
	}
	header := w.Header()
	header.Set("Content-Type", found.contentType)
	header.Set("Cache-Control", found.cache)
	header.Set("ETag", found.etag)
	if strings.Contains(r.Header.Get("If-None-Match"), found.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	if r.Method == http.MethodGet {
		_, _ = w.Write(found.data) // a reader that has gone away needs no answer
	}
}
