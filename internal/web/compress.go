package web

import (
	"compress/gzip"
	"mime"
	"net/http"
	"strings"
	"sync"
)

// compressFrom is the size in bytes from which an answer is compressed. Judgement: below it the
// answer fits a packet or two anyway.
const compressFrom = 1400

var gzipWriters = sync.Pool{New: func() any { return gzip.NewWriter(nil) }}

// compress sends text in gzip to those who take it.
func compress(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Add("Vary", "Accept-Encoding")
		if r.Method == http.MethodHead || !takesGzip(r.Header.Get("Accept-Encoding")) {
			h.ServeHTTP(w, r)
			return
		}
		c := &compressor{ResponseWriter: w}
		// Not deferred: after a panic what was held back is thrown away, so that the error can be told.
		h.ServeHTTP(c, r)
		c.finish()
	})
}

// takesGzip reads an Accept-Encoding header.
func takesGzip(header string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, parameter, _ := strings.Cut(part, ";")
		if name = strings.TrimSpace(name); name == "gzip" || name == "*" {
			quality := strings.ReplaceAll(parameter, " ", "")
			return strings.Trim(strings.TrimPrefix(quality, "q="), "0.") != "" || quality == ""
		}
	}
	return false
}

// compressor holds the beginning of an answer back until it is clear whether it pays to compress it.
type compressor struct {
	http.ResponseWriter
	status int
	held   []byte
	sent   bool // the header is out
	zip    *gzip.Writer
}

func (c *compressor) WriteHeader(status int) {
	if c.status == 0 {
		c.status = status
	}
}

func (c *compressor) Write(data []byte) (int, error) {
	if c.status == 0 {
		c.status = http.StatusOK
	}
	if !c.sent {
		c.held = append(c.held, data...)
		if len(c.held) < compressFrom {
			return len(data), nil
		}
		return len(data), c.begin()
	}
	if c.zip != nil {
		return c.zip.Write(data)
	}
	return c.ResponseWriter.Write(data)
}

// begin sends the header and what was held back.
func (c *compressor) begin() error {
	c.sent = true
	header := c.Header()
	if len(c.held) >= compressFrom && c.status == http.StatusOK && header.Get("Content-Encoding") == "" &&
		compressible(header.Get("Content-Type")) {
		header.Set("Content-Encoding", "gzip")
		header.Del("Content-Length")
		c.zip = gzipWriters.Get().(*gzip.Writer)
		c.zip.Reset(c.ResponseWriter)
	}
	c.ResponseWriter.WriteHeader(c.status)
	if len(c.held) == 0 {
		return nil
	}
	var err error
	if c.zip != nil {
		_, err = c.zip.Write(c.held)
	} else {
		_, err = c.ResponseWriter.Write(c.held)
	}
	c.held = nil
	return err
}

// finish sends the rest. A reader that has gone away needs no answer, so write errors end here.
func (c *compressor) finish() {
	if !c.sent {
		if c.status == 0 {
			c.status = http.StatusOK
		}
		_ = c.begin()
	}
	if c.zip != nil {
		_ = c.zip.Close()
		gzipWriters.Put(c.zip)
	}
}

// Unwrap lets http.ResponseController reach the connection.
func (c *compressor) Unwrap() http.ResponseWriter { return c.ResponseWriter }

// compressible tells whether a media type is text; pictures, fonts and PDF are packed already.
func compressible(contentType string) bool {
	kind, _, err := mime.ParseMediaType(contentType)
	if err != nil {
		return false
	}
	return strings.HasPrefix(kind, "text/") || strings.HasSuffix(kind, "+json") || strings.HasSuffix(kind, "+xml") ||
		kind == "application/json" || kind == "application/javascript" || kind == "application/wasm"
}
