package store_test

import (
	"context"
	"testing"
	"time"

	"duskboard/internal/fault"
	"duskboard/internal/night"
)

// TestPapers guards what a club says about its papers: the choice comes back,
// a programme is public only when said so, and the history of the night says
// who did it.
func TestPapers(t *testing.T) {
	s := openAt(t, oldDatabase(t, 8))
	ctx := night.By(context.Background(), "Ada")
	p, err := s.Papers(ctx)
	must(t, err)
	same(t, "the choice at first", night.Papers{Layout: "half", Language: "en"}, p)
	want := night.Papers{Layout: "full", Language: "de"}
	must(t, s.SavePapers(ctx, want))
	p, err = s.Papers(ctx)
	must(t, err)
	same(t, "the choice", want, p)
	if err := s.SavePapers(ctx, night.Papers{Layout: "napkin", Language: "en"}); err == nil {
		t.Error("a layout that there is not was kept")
	}

	if err := s.Publish(ctx, 99, true); fault.KindOf(err) != fault.NotFound {
		t.Errorf("published no night: %v, want not found", err)
	}
	must(t, s.SaveNightLanguage(ctx, 8, "de"))
	must(t, s.Publish(ctx, 8, true))
	all, err := s.NightPapers(ctx)
	must(t, err)
	same(t, "the papers of the night", map[int64]night.NightPapers{8: {Published: true, Language: "de"}}, all)
	must(t, s.Publish(ctx, 8, false))
	must(t, s.SaveNightLanguage(ctx, 8, ""))
	all, err = s.NightPapers(ctx)
	must(t, err)
	same(t, "the papers taken back", map[int64]night.NightPapers{8: {}}, all)
}

// TestCardWords guards that a club's words come back, that undo brings what
// stood there before and undone twice brings the change again, and that empty
// words leave the program's own.
func TestCardWords(t *testing.T) {
	s := openAt(t, oldDatabase(t, 8))
	ctx := context.Background()
	first, second := night.CardWords{Line: "Look up.", Facts: []string{"", "Old."}}, night.CardWords{Line: "Look again.", Child: "A ball."}
	if err := s.UndoCardWords(ctx, "en", "m13"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("undid nothing: %v, want not found", err)
	}
	words := func() night.CardWords {
		t.Helper()
		all, err := s.CardWords(ctx, "en")
		must(t, err)
		return all["m13"]
	}
	must(t, s.SaveCardWords(ctx, "en", "m13", first))
	must(t, s.SaveCardWords(ctx, "en", "m13", second))
	must(t, s.SaveCardWords(ctx, "de", "m13", night.CardWords{Line: "Schau."}))
	same(t, "the second words", second, words())
	must(t, s.UndoCardWords(ctx, "en", "m13"))
	same(t, "after undo", first, words())
	must(t, s.UndoCardWords(ctx, "en", "m13"))
	same(t, "after undo of undo", second, words())
	must(t, s.SaveCardWords(ctx, "en", "m13", night.CardWords{}))
	same(t, "after reset", night.CardWords{}, words())
	must(t, s.UndoCardWords(ctx, "en", "m13"))
	same(t, "after undo of reset", second, words())
}

// TestCardLanguages guards that a language comes back text by text, that a
// second file can be undone, and that a removed one can be brought back.
func TestCardLanguages(t *testing.T) {
	s := openAt(t, oldDatabase(t, 8))
	ctx := context.Background()
	at := time.Date(2026, 10, 1, 8, 0, 0, 0, time.UTC)
	one := night.CardLanguage{Code: "nl", Name: "Nederlands", Texts: map[string]string{"text.care": "Zorg"}, At: at}
	only := func() night.CardLanguage {
		t.Helper()
		all, err := s.CardLanguages(ctx)
		must(t, err)
		if len(all) != 1 {
			t.Fatalf("%d languages, want 1", len(all))
		}
		return all[0]
	}
	must(t, s.SaveCardLanguage(ctx, one, at))
	same(t, "the language", one, only())
	if err := s.UndoCardLanguage(ctx, "nl"); fault.KindOf(err) != fault.NotFound {
		t.Errorf("undid the first file: %v, want not found", err)
	}
	two := one
	two.Texts = map[string]string{"text.care": "Onderhoud"}
	must(t, s.SaveCardLanguage(ctx, two, at))
	must(t, s.UndoCardLanguage(ctx, "nl"))
	same(t, "after undo", one.Texts, only().Texts)
	must(t, s.RemoveCardLanguage(ctx, "nl", true))
	if !only().Removed {
		t.Error("the removed language is not marked")
	}
	must(t, s.RemoveCardLanguage(ctx, "nl", false))
	if only().Removed {
		t.Error("the language was not brought back")
	}
	if err := s.RemoveCardLanguage(ctx, "xx", true); fault.KindOf(err) != fault.NotFound {
		t.Errorf("removed no language: %v, want not found", err)
	}
}
