package crew

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"duskboard/internal/kit"
)

// Row is one line of an import with what became of it.
type Row struct {
	Line      int // in the file, from 1
	Volunteer Volunteer
	Faults    []string // what is wrong; nothing is imported while any row has some
	Same      string   // who on the list, or which earlier line, has this name and contact: left out
	Like      string   // who has the same name or the same contact: imported, after a look
}

// columns are the headings that an import knows; the first name of each is
// what the template writes.
var columns = map[string][]string{
	"name":      {"name", "volunteer"},
	"email":     {"email", "e-mail", "mail"},
	"phone":     {"phone", "telephone", "mobile"},
	"share":     {"share contact", "share", "shared"},
	"minor":     {"under age", "minor"},
	"roles":     {"roles", "role"},
	"operates":  {"operates", "skills"},
	"limits":    {"limits"},
	"languages": {"languages", "language"},
	"drive":     {"drive minutes", "drive"},
	"notes":     {"notes", "note"},
}

// Template is a file with every heading and one line as an example.
const Template = "name,email,phone,share contact,under age,roles,operates,limits,languages,drive minutes,notes\n" +
	"Ada Example,ada@club.example,+44 20 5550 100,yes,no,operator; greeter,rocker-box: alone; The Barrel: can-teach,no lifting; no ladder,en; fr,25,\n"

// mostRows bounds an import.
const mostRows = 2000

// ReadCSV reads volunteers from a CSV file with headings. Columns may stand in
// any order and be left out, except the name; separators may be commas,
// semicolons or tabs. Instruments and mounts in "operates" are found by name.
// An error means that the file as a whole cannot be read.
func ReadCSV(text string, known []Volunteer, instruments []kit.Instrument) ([]Row, error) {
	text = strings.TrimPrefix(text, "\ufeff")
	if !utf8.ValidString(text) {
		return nil, errors.New("the file is not UTF-8 text; save it as CSV UTF-8")
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = separator(text), -1, true
	head, err := r.Read()
	if err == io.EOF {
		return nil, errors.New("the file is empty")
	}
	if err != nil {
		return nil, err
	}
	at, err := headings(head)
	if err != nil {
		return nil, err
	}
	var rows []Row
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		if len(rows) == mostRows {
			return nil, errors.New(sentence("more than %d lines; split the file", mostRows))
		}
		line, _ := r.FieldPos(0)
		if strings.Join(cells, "") == "" {
			continue
		}
		row := parseRow(line, cells, at, instruments)
		row.compare(known, rows)
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return nil, errors.New("there is no line below the headings")
	}
	return rows, nil
}

// separator is the one that the first line has most of.
func separator(text string) rune {
	line, _, _ := strings.Cut(text, "\n")
	best, most := ',', 0
	for _, c := range ",;\t" {
		if n := strings.Count(line, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

// headings finds the columns; one that is not known is an error, because it
// would be lost silently.
func headings(head []string) (map[string]int, error) {
	at := map[string]int{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		if h == "" {
			continue
		}
		found := ""
		for key, names := range columns {
			if slices.Contains(names, h) {
				found = key
			}
		}
		if found == "" {
			return nil, errors.New(sentence("the heading %q is not known; known are name, email, phone, share contact, under age, roles, operates, limits, languages, drive minutes, notes", h))
		}
		if _, twice := at[found]; twice {
			return nil, errors.New(sentence("the heading %q stands twice", h))
		}
		at[found] = i
	}
	if _, ok := at["name"]; !ok {
		return nil, errors.New("a column with the heading name is needed")
	}
	return at, nil
}

func parseRow(line int, cells []string, at map[string]int, instruments []kit.Instrument) Row {
	row := Row{Line: line}
	fault := func(format string, args ...any) { row.Faults = append(row.Faults, sentence(format, args...)) }
	cell := func(name string) string {
		if i, ok := at[name]; ok && i < len(cells) {
			return plain(strings.TrimSpace(cells[i]))
		}
		return ""
	}
	yes := func(name string) bool {
		switch strings.ToLower(cell(name)) {
		case "yes", "y", "true", "1", "x":
			return true
		case "", "no", "n", "false", "0":
		default:
			fault("%s: write yes or no, not %q", columns[name][0], cell(name))
		}
		return false
	}
	v := &row.Volunteer
	v.Name, v.Email, v.Phone, v.Notes = cell("name"), cell("email"), cell("phone"), cell("notes")
	v.Share, v.Minor = yes("share"), yes("minor")
	switch n := utf8.RuneCountInString(v.Name); {
	case n == 0:
		fault("the name is missing")
	case n > 200:
		fault("the name has %d letters; at most 200", n)
	case strings.ContainsFunc(v.Name, func(r rune) bool { return r < ' ' }):
		fault("the name holds a line break or another control character")
	}
	if v.Email != "" && (!strings.Contains(strings.Trim(v.Email, "@"), "@") || strings.ContainsAny(v.Email, " ,;<>") || len(v.Email) > 200) {
		fault("%q is not one e-mail address", v.Email)
	}
	if utf8.RuneCountInString(v.Phone) > 40 {
		fault("the phone number is too long")
	}
	if utf8.RuneCountInString(v.Notes) > 4000 {
		fault("the notes have more than 4000 letters")
	}
	if d := cell("drive"); d != "" {
		n, err := strconv.Atoi(d)
		if err != nil || n < 0 || n > 600 {
			fault("drive minutes: whole minutes from 0 to 600, not %q", d)
		}
		v.DriveMinutes = n
	}
	for _, x := range parts(cell("roles")) {
		role := Role(strings.ReplaceAll(strings.ToLower(x), " ", "-"))
		if !slices.Contains(Roles, role) {
			fault("the role %q is not known", x)
			continue
		}
		v.Roles = append(v.Roles, role)
	}
	v.Languages = parts(cell("languages"))
	for _, x := range parts(cell("limits")) {
		switch strings.ToLower(strings.ReplaceAll(x, "-", " ")) {
		case "no lifting":
			v.Limits.NoLifting = true
		case "no ladder", "no ladders":
			v.Limits.NoLadder = true
		case "must sit", "needs a seat":
			v.Limits.MustSit = true
		case "no night driving", "no driving at night":
			v.Limits.NoNightDriving = true
		default:
			fault("the limit %q is not known", x)
		}
	}
	for _, x := range parts(cell("operates")) {
		if skill, why := parseSkill(x, instruments); why != "" {
			fault("%s", why)
		} else {
			v.Skills = append(v.Skills, skill)
		}
	}
	return row
}

// plain takes away the apostrophe that an export puts before text which a
// spreadsheet would run as a formula, as "'+44 20 5550 100" (OWASP, "CSV
// Injection").
func plain(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && rest != "" && strings.ContainsRune("=+-@\t\r＝＋－＠", []rune(rest)[0]) {
		return rest
	}
	return cell
}

// parseSkill reads "rocker-box: alone" or "The Barrel".
func parseSkill(x string, instruments []kit.Instrument) (Skill, string) {
	what, level, given := x, "alone", false
	if i := strings.LastIndex(x, ":"); i >= 0 {
		what, level, given = strings.TrimSpace(x[:i]), strings.TrimSpace(x[i+1:]), true
	}
	s := Skill{Level: Level(strings.ReplaceAll(strings.ToLower(level), " ", "-"))}
	if rank(s.Level) < 0 {
		return s, sentence("%q: the level is learning, alone or can-teach", x)
	}
	for _, i := range instruments {
		if strings.EqualFold(i.Name, what) || !given && strings.EqualFold(i.Name, x) {
			s.InstrumentID = i.ID
			return s, ""
		}
	}
	for _, m := range kit.Mounts {
		if strings.EqualFold(string(m), strings.ReplaceAll(what, " ", "-")) {
			s.Mount = string(m)
			return s, ""
		}
	}
	return s, sentence("%q is neither an instrument of the club nor a kind of mount", what)
}

func parts(s string) []string {
	var out []string
	for _, x := range strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == '|' }) {
		if x = strings.TrimSpace(x); x != "" {
			out = append(out, x)
		}
	}
	return out
}

// compare looks for the same person on the list and in the lines above: name
// and contact the same is one person; either alone may be a namesake, or a
// family that shares a phone.
func (r *Row) compare(known []Volunteer, above []Row) {
	look := func(o Volunteer, where string) {
		name := strings.EqualFold(strings.Join(strings.Fields(o.Name), " "), strings.Join(strings.Fields(r.Volunteer.Name), " "))
		contact := o.Email != "" && strings.EqualFold(o.Email, r.Volunteer.Email) || digits(o.Phone) != "" && digits(o.Phone) == digits(r.Volunteer.Phone)
		bare := o.Email+o.Phone == "" && r.Volunteer.Email+r.Volunteer.Phone == ""
		switch {
		case name && (contact || bare):
			r.Same = where
		case name && r.Like == "":
			r.Like = "same name as " + where
		case contact && r.Like == "":
			r.Like = "same contact as " + where
		}
	}
	for _, o := range known {
		if !o.Forgotten {
			look(o, o.Name+" on the list")
		}
	}
	for _, o := range above {
		look(o.Volunteer, sentence("line %d", o.Line))
	}
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, s)
}

// WriteCSV writes a table by RFC 4180. A cell that a spreadsheet would take
// for a formula gets an apostrophe before it.
func WriteCSV(rows [][]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = neutral(cell)
		}
		_ = w.Write(safe) // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}

// neutral keeps a cell from being read as a formula (OWASP, CSV injection:
// cells that begin with = + - @, a tab or a line break). Numbers stay.
func neutral(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(cell)[0]) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}
