package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"duskboard/internal/exchange"
	"duskboard/internal/kit"
	"duskboard/internal/store"
)

const kitUsage = `name what to do:
  duskboard kit import FILE.csv --data DIR [--try]
  duskboard kit export [FILE.csv] --data DIR`

// kitCommand takes kit from a spreadsheet or gives it to one.
func kitCommand(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	var words []string
	for len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		words, args = append(words, args[0]), args[1:]
	}
	data := env("DUSKBOARD_DATA")
	if data == "" {
		data = "data"
	}
	f := flag.NewFlagSet("kit", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.StringVar(&data, "data", data, "folder that holds the club's data (DUSKBOARD_DATA)")
	try := f.Bool("try", false, "import: say what would be done and change nothing")
	if err := f.Parse(args); err != nil {
		return fmt.Errorf("%w: %v", errUsage, err)
	}
	words = append(words, f.Args()...)
	database := filepath.Join(data, databaseName)
	switch {
	case len(words) == 2 && words[0] == "import":
		return importKit(ctx, words[1], database, *try, stdout)
	case len(words) == 1 && words[0] == "export":
		return exportKit(ctx, "", database, stdout)
	case len(words) == 2 && words[0] == "export":
		return exportKit(ctx, words[1], database, stdout)
	}
	return fmt.Errorf("%w: %s", errUsage, kitUsage)
}

// importKit adds every row of a table to the kit, or none and names each fault.
func importKit(ctx context.Context, file, database string, try bool, stdout io.Writer) error {
	in, err := os.Open(file)
	if err != nil {
		return err
	}
	defer in.Close()
	k, err := exchange.ReadKit(in)
	var faults exchange.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			fmt.Fprintln(stdout, f)
		}
		return fmt.Errorf("nothing was imported: %d faults, see above", len(faults))
	}
	if err != nil {
		return fmt.Errorf("read %s: %w", file, err)
	}
	n := pieces(k)
	if try {
		fmt.Fprintf(stdout, "%d rows are sound; nothing was changed.\n", n)
		return nil
	}
	st, err := store.Open(ctx, database)
	if err != nil {
		return err
	}
	defer st.Close()
	if err := st.ImportKit(ctx, k); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "%d rows are in the kit.\n", n)
	return nil
}

func pieces(k kit.Kit) int {
	return len(k.Instruments) + len(k.Eyepieces) + len(k.Amplifiers) + len(k.Diagonals) + len(k.Filters) +
		len(k.Finders) + len(k.DewGear) + len(k.Batteries) + len(k.Steps)
}

// exportKit writes the kit, without what is retired, to a file or to stdout.
func exportKit(ctx context.Context, file, database string, stdout io.Writer) error {
	if _, err := os.Stat(database); err != nil {
		return fmt.Errorf("there is no club here: %w", err)
	}
	st, err := store.Open(ctx, database)
	if err != nil {
		return err
	}
	defer st.Close()
	k, err := st.Kit(ctx, false)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := exchange.WriteKit(&b, k); err != nil {
		return err
	}
	if file == "" {
		_, err := stdout.Write(b.Bytes())
		return err
	}
	return os.WriteFile(file, b.Bytes(), 0o600)
}
