package web

import (
	"bytes"
	"context"
	"strings"

	"duskboard/internal/exchange"
	"duskboard/internal/kit"
	"duskboard/web/views"
)

// ImportStore saves many things at once, all of them or none.
type ImportStore interface {
	ImportKit(ctx context.Context, k kit.Kit) error
}

// kitTable is the kit as a table.
func (s *server) kitTable() tableImport {
	return tableImport{
		s: s, path: "/kit", over: "Kit", title: "Kit from a table", section: inKit, crumb: views.Link{Text: "Kit", Href: "/kit"},
		one: "piece of gear", many: "pieces of gear", file: "kit",
		hint:     "A row with the kind and name of a piece that is there changes it; empty cells leave what it has. Every other row is a new piece, and empty cells take what is usual.",
		columns:  exchange.KitColumns(),
		template: exchange.KitTemplate,
		plan: func(ctx context.Context, text string) (tablePlan, error) {
			have, err := s.store.Kit(ctx, false)
			if err != nil {
				return tablePlan{}, err
			}
			p, err := exchange.PlanKit(strings.NewReader(text), have)
			if err != nil {
				return tablePlan{}, err
			}
			save := func(ctx context.Context) (string, error) { return "", s.store.ImportKit(ctx, p.Kit) }
			return tablePlan{p.Changes, save}, nil
		},
		export: func(ctx context.Context) ([]byte, error) {
			k, err := s.store.Kit(ctx, false)
			if err != nil {
				return nil, err
			}
			var b bytes.Buffer
			err = exchange.WriteKit(&b, k)
			return b.Bytes(), err
		},
	}
}
