package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"sort"
	"strings"
	"time"

	"duskboard/static"
)

// assets are the static files, under an address that changes with any of them:
// a browser may keep each for ever, and never shows a page with an old style.
type assets struct {
	prefix string // "/static/1a2b3c4d"
	files  map[string][]byte
}

// bundle reads the embedded files and joins css/*.css into css/app.css, so that
// the sources stay small and a page asks for one file. layers.css comes first,
// because it fixes the order of the layers; after that, order does not matter.
func bundle() (assets, error) {
	a := assets{files: map[string][]byte{}}
	err := fs.WalkDir(static.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := static.Files.ReadFile(name)
		a.files[name] = b
		return err
	})
	if err != nil {
		return assets{}, err
	}

	names := make([]string, 0, len(a.files))
	for name := range a.files {
		names = append(names, name)
	}
	sort.Strings(names)
	var css bytes.Buffer
	css.Write(a.files["css/layers.css"])
	sum := sha256.New()
	for _, name := range names {
		sum.Write([]byte(name))
		sum.Write(a.files[name])
		if path.Dir(name) == "css" && name != "css/layers.css" {
			css.Write(a.files[name])
		}
	}
	a.files["css/app.css"] = css.Bytes()
	a.prefix = "/static/" + hex.EncodeToString(sum.Sum(nil)[:4])
	return a, nil
}

// serve answers /static/{hash}/{name}. An older hash is answered with today's
// file, but is not to be kept.
func (a assets) serve(w http.ResponseWriter, r *http.Request) {
	rest := strings.TrimPrefix(r.URL.Path, "/static/")
	hash, name, _ := strings.Cut(rest, "/")
	b, ok := a.files[name]
	if !ok {
		http.NotFound(w, r)
		return
	}
	if "/static/"+hash == a.prefix {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if path.Ext(name) == ".woff2" {
		w.Header().Set("Content-Type", "font/woff2") // not in every machine's table
	}
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(b))
}

// favicon sends those who ask for the old address to the drawing.
func (a assets) favicon(w http.ResponseWriter, r *http.Request) {
	http.Redirect(w, r, a.prefix+"/img/mark.svg", http.StatusFound)
}
