package web

import (
	"bytes"
	"context"
	"strings"

	"duskboard/internal/exchange"
	"duskboard/internal/night"
	"duskboard/web/views"
)

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
			return tablePlan{p.Changes, s.saveBatch("kit from a table", night.Batch{Kit: p.Kit}, nil)}, nil
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

// saveBatch saves what a table brings and returns the address that takes it
// back. then completes what was saved; it may be nil.
func (s *server) saveBatch(what string, x night.Batch, then func(context.Context) error) func(context.Context) (string, error) {
	return func(ctx context.Context) (string, error) {
		id, err := s.store.Import(ctx, what, x)
		if err == nil && then != nil {
			err = then(ctx)
		}
		return importPath(id) + "/undo", err
	}
}
