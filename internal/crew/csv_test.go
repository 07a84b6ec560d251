package crew_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"duskboard/internal/crew"
	"duskboard/internal/kit"
)

var clubKit = []kit.Instrument{{Base: kit.Base{ID: 4, Name: "The Barrel"}, Mount: kit.RockerBox}}

func TestReadCSV(t *testing.T) {
	known := []crew.Volunteer{{Name: "Noor", Email: "noor@club.example"}, {Name: "Bram", Phone: "+44 20 5550 100"}}
	text := "\ufeffName;E-mail;Phone;Under age;Roles;Operates;Limits;Drive minutes\r\n" +
		"نور الهدى;;;yes;;;;\r\n" +
		"Ada;ada@club.example;;no;\"operator; queue host\";\"The Barrel: can-teach; rocker-box\";\"no lifting; needs a seat\";25\r\n" +
		"noor;NOOR@club.example;;;;;;\r\n" +
		"Noor;other@club.example;;;;;;\r\n" +
		"Cas;;0044 20 5550-100;;;;;\r\n" +
		"Cas;;0044205550100;;;;;\r\n"
	rows, err := crew.ReadCSV(text, known, clubKit)
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 6 || rows[0].Volunteer.Name != "نور الهدى" || !rows[0].Volunteer.Minor {
		t.Fatalf("%+v", rows)
	}
	ada := rows[1].Volunteer
	if len(ada.Roles) != 2 || ada.Roles[1] != crew.QueueHost || len(ada.Skills) != 2 || ada.Skills[0] != (crew.Skill{InstrumentID: 4, Level: crew.Teacher}) ||
		ada.Skills[1] != (crew.Skill{Mount: "rocker-box", Level: crew.Alone}) || !ada.Limits.NoLifting || !ada.Limits.MustSit || ada.DriveMinutes != 25 {
		t.Errorf("Ada is %+v", ada)
	}
	if rows[2].Same == "" || rows[3].Same != "" || !strings.Contains(rows[3].Like, "same name") || rows[5].Same != "line 6" {
		t.Errorf("doubles: %q, %q %q, %q", rows[2].Same, rows[3].Same, rows[3].Like, rows[5].Same)
	}
	for i, r := range rows {
		if len(r.Faults) > 0 {
			t.Errorf("line %d: %q", i, r.Faults)
		}
	}
	if rows, err := crew.ReadCSV(crew.Template, nil, clubKit); err != nil || len(rows) != 1 || len(rows[0].Faults) > 0 {
		t.Errorf("the template itself: %+v, %v", rows, err)
	}
}

func TestBadCSV(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"empty":           {"", "empty"},
		"no name":         {"email\na@b.example\n", "heading name"},
		"unknown heading": {"name,shoe size\nA,9\n", `"shoe size"`},
		"twice":           {"name,Name\nA,B\n", "twice"},
		"only headings":   {"name,email\n", "no line below"},
		"not UTF-8":       {"name\nR\xe9mi\n", "UTF-8"},
		"open quote":      {"name\n\"A\n", "quote"},
	} {
		if _, err := crew.ReadCSV(c.text, nil, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
	long := strings.Repeat("ا", 201)
	rows, err := crew.ReadCSV("name,email,roles,operates,limits,drive,minor\n,,,,,,\n"+long+",x,king,Churn,tall,soon,perhaps\n"+strings.Repeat("ا", 200)+",,,,,,\n", nil, clubKit)
	if err != nil || len(rows) != 2 {
		t.Fatalf("%+v, %v", rows, err)
	}
	if got := len(rows[0].Faults); got != 7 {
		t.Errorf("%d faults, want one for each of seven cells: %q", got, rows[0].Faults)
	}
	if len(rows[1].Faults) != 0 {
		t.Errorf("200 letters: %q", rows[1].Faults)
	}
}

// TestWriteCSV reads the table back with another reader and looks at cells
// that spreadsheets take for formulas (OWASP, CSV injection).
func TestWriteCSV(t *testing.T) {
	b := crew.WriteCSV([][]string{{"=1+1", "@SUM(A1)", "+44", "-3.5", "\tx", "a\"b,c\nd", "plain"}})
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"'=1+1", "'@SUM(A1)", "+44", "-3.5", "'\tx", "a\"b,c\nd", "plain"}
	if strings.Join(rows[0], "|") != strings.Join(want, "|") || !bytes.HasSuffix(b, []byte("\r\n")) {
		t.Errorf("%q, want %q", rows[0], want)
	}
}

func TestSum(t *testing.T) {
	got := crew.Sum([]crew.Served{
		{NightID: 1, VolunteerID: 2, Name: "Bea", Role: crew.Parking, Length: time.Hour},
		{NightID: 1, VolunteerID: 1, Name: "Ada", Role: crew.Operator, Length: 2 * time.Hour},
		{NightID: 2, VolunteerID: 1, Name: "Ada", Role: crew.Operator, Length: 90 * time.Minute},
		{NightID: 1, VolunteerID: 1, Name: "Ada", Role: crew.Greeter, Length: 30 * time.Minute},
	})
	if len(got) != 2 || got[0].Name != "Ada" || got[0].Total != 4*time.Hour || got[0].Nights != 2 || got[0].ByRole[crew.Operator] != 210*time.Minute || got[1].Nights != 1 {
		t.Errorf("%+v", got)
	}
}
