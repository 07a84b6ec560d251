package web

import (
	"encoding/base64"
	"encoding/json"
	"net/http"
	"strings"

	"duskboard/web/views"
)

// The themes a visitor can choose: ink on paper, and red lamp light on black.
const (
	paper = "paper"
	lamp  = "lamp"
)

var themes = []string{paper, lamp}

const (
	themeCookie = "theme"
	flashCookie = "flash"
)

// themeOf returns the theme kept in the cookie. The server writes it into the
// page, so that no white page flashes up before a script could run.
func themeOf(r *http.Request) string {
	if c, err := r.Cookie(themeCookie); err == nil && c.Value == lamp {
		return lamp
	}
	return paper
}

// switchTheme keeps the chosen theme and goes back to where it was chosen.
func (s *server) switchTheme(w http.ResponseWriter, r *http.Request) error {
	theme := paper
	if r.PostFormValue("theme") == lamp {
		theme = lamp
	}
	http.SetCookie(w, &http.Cookie{
		Name: themeCookie, Value: theme, Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	})
	return redirect(w, r, localPath(r.PostFormValue("back")), views.Flash{})
}

// localPath returns p when it is a path on this site, else "/": a form must
// not send a visitor elsewhere.
func localPath(p string) string {
	if !strings.HasPrefix(p, "/") || strings.HasPrefix(p, "//") || strings.ContainsAny(p, "\\\r\n") {
		return "/"
	}
	return p
}

// setFlash keeps a message for the next page. A cookie is enough: the message
// is our own sentence, it is escaped where it is shown and it must not outlive
// the next page, so it needs no row in the database.
func setFlash(w http.ResponseWriter, f views.Flash) {
	b, err := json.Marshal(f)
	if err != nil {
		panic(err) // two strings always marshal
	}
	http.SetCookie(w, &http.Cookie{
		Name: flashCookie, Value: base64.RawURLEncoding.EncodeToString(b), Path: "/", MaxAge: 120, HttpOnly: true, SameSite: http.SameSiteLaxMode,
	})
}

// takeFlash returns the message kept for this page, or nil, and forgets it.
func takeFlash(w http.ResponseWriter, r *http.Request) *views.Flash {
	c, err := r.Cookie(flashCookie)
	if err != nil {
		return nil
	}
	http.SetCookie(w, &http.Cookie{Name: flashCookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode})
	b, err := base64.RawURLEncoding.DecodeString(c.Value)
	if err != nil {
		return nil
	}
	var f views.Flash
	if json.Unmarshal(b, &f) != nil || f.Text == "" {
		return nil
	}
	f.Undo = localPath(f.Undo)
	if f.Undo == "/" {
		f.Undo = ""
	}
	return &f
}
