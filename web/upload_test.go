package web_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"image"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/textproto"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// uploads are the pages that read a file, and a file that each of them takes
// as far as the preview.
var uploads = []struct{ path, field, good string }{
	{"/kit/import", "text", "kind,name,focallength\neyepiece,Wide,25\n"},
	{"/sites/import", "text", "name,latitude,longitude,brightness\nHill,52.5163 N,13.3777 E,20.6\n"},
	{"/targets/import", "text", ""},
	{"/nights/table/import", "text", ""},
	{"/nights/import", "text", ""},
	{"/crew/import", "text", "name,email\nZoë,zoe@club.example\n"},
	{"/words/file", "text", ""},
	{"/nights/1/weather/file", "csv", goodCSV},
}

// upload is a form with files as a sender makes it who is no browser: any name,
// any kind.
func upload(t *testing.T, v *visitor, path, name, kind string, fields map[string]string, files ...[]byte) page {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	for _, file := range files {
		h := textproto.MIMEHeader{}
		h.Set("Content-Disposition", fmt.Sprintf(`form-data; name="file"; filename=%q`, name))
		h.Set("Content-Type", kind)
		part, err := w.CreatePart(h)
		if err != nil {
			t.Fatal(err)
		}
		part.Write(file)
	}
	for k, x := range fields {
		if err := w.WriteField(k, x); err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	req, err := http.NewRequest(http.MethodPost, v.base+path, &b)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", w.FormDataContentType())
	return v.do(req)
}

func picture(t *testing.T) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 40))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func packed(t *testing.T) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	f, err := z.Create("sheet.csv")
	if err != nil {
		t.Fatal(err)
	}
	f.Write([]byte("kind,name\n"))
	z.Close()
	return b.Bytes()
}

// wide is text in UTF-16, as spreadsheets on some machines save “Unicode text”.
func wide(text string, mark bool, low, high int) []byte {
	if mark {
		text = "\ufeff" + text
	}
	var out []byte
	for _, u := range utf16.Encode([]rune(text)) {
		pair := [2]byte{}
		pair[low], pair[high] = byte(u), byte(u>>8)
		out = append(out, pair[:]...)
	}
	return out
}

// TestUploadsOfTheWrongKind sends what is no text to every page that reads a
// file, called and declared as CSV: each says beside the box what it was, keeps
// nothing, and offers nothing to keep.
func TestUploadsOfTheWrongKind(t *testing.T) {
	v := visit(t)
	fill(v)
	before := everything(t, v)
	csv := "kind,name\neyepiece,A\n"
	wrong := []struct {
		what  string
		bytes []byte
		says  string
	}{
		{"a picture", picture(t), "picture"}, {"a JPEG's beginning", []byte("\xff\xd8\xff\xe0\x00\x10JFIF"), "picture"},
		{"a packed file", packed(t), "packed file"}, {"a PDF", []byte("%PDF-1.7\n1 0 obj\n"), "PDF"},
		{"UTF-16, little end first", wide(csv, true, 0, 1), "UTF-16"}, {"UTF-16, big end first", wide(csv, true, 1, 0), "UTF-16"},
		{"UTF-16 without its mark", wide(csv, false, 0, 1), "no text"}, {"Latin-1", []byte("name\nZo\xeb\n"), "UTF-8"},
		{"a page of the web", []byte("<!DOCTYPE html><html><body>Sign in</body></html>"), "page of the web"},
		{"a gzip", []byte("\x1f\x8b\x08\x00\x00\x00\x00\x00"), "no text"}, {"a zero far behind", []byte(csv + strings.Repeat("eyepiece,B\n", 90) + "\x00"), "no text"},
		{"a program", []byte("\x7fELF\x02\x01\x01\x00\x00\x00"), "no text"},
	}
	for _, u := range uploads {
		for _, c := range wrong {
			p := upload(t, v, u.path, "list.csv", "text/csv", map[string]string{"keep": "1", "do": "save", "code": "nl", "name": "Nederlands"}, c.bytes)
			if p.status != http.StatusUnprocessableEntity || !strings.Contains(p.body, c.says) {
				t.Errorf("%s to %s: status %d, without %q", c.what, u.path, p.status, c.says)
			}
			if strings.Contains(p.body, "\x00") || strings.Contains(p.body, "\ufffd") {
				t.Errorf("%s to %s: the page holds its bytes", c.what, u.path)
			}
		}
		two := upload(t, v, u.path, "list.csv", "text/csv", map[string]string{"keep": "1", "code": "nl", "name": "Nederlands"}, []byte(csv), []byte(csv))
		if two.status != http.StatusUnprocessableEntity || !strings.Contains(two.body, "several files") {
			t.Errorf("two files to %s: status %d", u.path, two.status)
		}
	}
	if after := everything(t, v); after != before {
		t.Error("a refused file left something behind")
	}
}

// TestUploadNamesCountForNothing guards that neither the name nor the declared
// kind of a file matters, and that no upload becomes a file on the server.
func TestUploadNamesCountForNothing(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	v := visit(t)
	fill(v)
	for _, u := range uploads {
		if u.good == "" {
			continue
		}
		for _, name := range []string{"../../../etc/passwd", "/etc/cron.d/x.csv", "a\x00.csv", "photo.png", strings.Repeat("n", 5000), "CON", "\u202evsc.exe", `..\..\x`} {
			for _, kind := range []string{"image/png", "application/x-msdownload", "text/csv; charset=utf-16", "not a kind"} {
				p := upload(t, v, u.path, name, kind, map[string]string{"do": "look"}, []byte(u.good))
				if p.status != http.StatusOK {
					t.Errorf("%s called %.20q of kind %s: status %d", u.path, name, kind, p.status)
				}
				if strings.Contains(p.body, "passwd") || strings.Contains(p.body, "cron.d") || strings.Contains(p.body, "vsc.exe") {
					t.Errorf("%s repeats the name %.20q", u.path, name)
				}
			}
		}
		// Just under the limit: it stays in memory.
		upload(t, v, u.path, "big.csv", "text/csv", nil, bytes.Repeat([]byte("x"), 2<<20-2000))
	}
	var left []string
	filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			left = append(left, path)
		}
		return nil
	})
	if len(left) > 0 {
		t.Errorf("uploads left files: %q", left)
	}
}

// endless is a body that never ends by itself; read counts what was taken of it.
type endless struct {
	head string
	most int64
	read int64
}

func (e *endless) Read(b []byte) (int, error) {
	if e.read >= e.most {
		return 0, io.EOF
	}
	n := copy(b, e.head)
	e.head = e.head[n:]
	if n == 0 {
		n = copy(b, bytes.Repeat([]byte("x"), len(b)))
	}
	e.read += int64(n)
	return n, nil
}

// TestEndlessUploads sends 100 MB to every page that reads a file, as a stream
// of unknown length: the server stops reading after its limit of 2 MB and says
// so. The same for a form of very many parts.
func TestEndlessUploads(t *testing.T) {
	v := visit(t)
	fill(v)
	send := func(path string, body io.Reader) *httptest.ResponseRecorder {
		req := httptest.NewRequest(http.MethodPost, path, body)
		req.ContentLength = -1
		req.Header.Set("Content-Type", "multipart/form-data; boundary=xyz")
		w := httptest.NewRecorder()
		v.handler.ServeHTTP(w, req)
		return w
	}
	for _, u := range uploads {
		for _, part := range []string{`name="file"; filename="x.csv"`, `name="` + u.field + `"`} {
			body := &endless{head: "--xyz\r\nContent-Disposition: form-data; " + part + "\r\n\r\n", most: 100 << 20}
			w := send(u.path, body)
			if w.Code != http.StatusRequestEntityTooLarge && w.Code != http.StatusUnprocessableEntity {
				t.Errorf("%s, %s: status %d", u.path, part, w.Code)
			}
			if body.read > 3<<20 {
				t.Errorf("%s, %s: %d bytes were read, the limit is %d", u.path, part, body.read, 2<<20)
			}
		}
		parts := strings.Repeat("--xyz\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\nb\r\n", 30000) + "--xyz--\r\n"
		if w := send(u.path, strings.NewReader(parts)); w.Code < 400 || w.Code >= 500 {
			t.Errorf("%s with 30,000 parts: status %d", u.path, w.Code)
		}
	}
	v.get("/kit").wants(http.StatusOK)
}

// everything is the whole club as its export has it, without the line of when.
func everything(t *testing.T, v *visitor) string {
	t.Helper()
	var b bytes.Buffer
	if err := v.store.Whole(t.Context(), &b, now, func(int64) {}, func(int64, int64) {}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
