package web

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"strings"
	"unicode/utf8"
)

// sentText is the text of a form's one file, else what was pasted into a field.
// wrong says what is sent instead of text; pages show it beside the box.
//
// What a file is called and what the browser says of its kind are not looked
// at: both are the sender's word. Its bytes say what it is. The whole body is
// bounded before this by limitBody and stays in memory, so that no upload ever
// becomes a file on the server.
func sentText(r *http.Request, field string) (text, wrong string, err error) {
	if err := r.ParseMultipartForm(maxBody); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		return "", "", notWhole(err)
	}
	text = r.PostFormValue(field)
	if r.MultipartForm != nil {
		files := 0
		for _, all := range r.MultipartForm.File {
			for _, f := range all {
				if f.Size == 0 {
					continue // a browser sends an empty one when none was chosen
				}
				if files++; files > 1 {
					return "", "There are several files. Choose one.", nil
				}
				if text, err = textOf(f); err != nil {
					return "", "", err
				}
			}
		}
	}
	if wrong = notText(text); wrong != "" {
		return "", wrong, nil
	}
	return text, "", nil
}

func textOf(h *multipart.FileHeader) (string, error) {
	f, err := h.Open()
	if err != nil {
		return "", err
	}
	defer f.Close()
	b, err := io.ReadAll(f)
	return string(b), err
}

// notText says what bytes are that are no text; "" for text in UTF-8. Kinds are
// told by their first bytes, as in the standard that browsers follow (WHATWG,
// MIME Sniffing), of which [http.DetectContentType] is a part.
func notText(s string) string {
	kind := http.DetectContentType([]byte(s[:min(len(s), 512)]))
	switch {
	case kind == "text/plain; charset=utf-16le", kind == "text/plain; charset=utf-16be":
		return "This is text in UTF-16. Save it as “CSV UTF-8”, or as plain text in UTF-8."
	case kind == "application/zip":
		return "This is a packed file, such as a spreadsheet in its own format. Save it as “CSV UTF-8” there."
	case strings.HasPrefix(kind, "image/"):
		return "This is a picture, not text."
	case kind == "application/pdf":
		return "This is a PDF, not text."
	case strings.HasPrefix(kind, "text/html"):
		return "This is a page of the web, not a table. Save the file itself."
	case !strings.HasPrefix(kind, "text/"), strings.Contains(s, "\x00"):
		return "This holds bytes that are no text."
	case !utf8.ValidString(s):
		return "This is not UTF-8. Choose “CSV UTF-8” when saving it in the spreadsheet."
	}
	return ""
}
