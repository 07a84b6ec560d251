package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"duskboard/internal/account"
	"duskboard/internal/fault"
	"duskboard/internal/store"
)

const accountUsage = `name what to do:
  duskboard account list --data DIR
  duskboard account link NAME --data DIR [--role coordinator|crew|viewer]
  duskboard account sign-out NAME --data DIR`

// linkLife is how long a link made on the command line is good.
const linkLife = 24 * time.Hour

// accounts manages accounts beside a running server: whoever can write the
// data folder may let themselves in again. A password is never typed here; a
// link sets it in the browser.
func accounts(ctx context.Context, args []string, env func(string) string, stdout, stderr io.Writer) error {
	var words []string
	for len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		words, args = append(words, args[0]), args[1:]
	}
	data := env("DUSKBOARD_DATA")
	if data == "" {
		data = "data"
	}
	f := flag.NewFlagSet("account", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.StringVar(&data, "data", data, "folder that holds the club's data (DUSKBOARD_DATA)")
	role := f.String("role", "", "make the account with this role if there is none, or give it this role")
	if err := f.Parse(args); err != nil {
		return fmt.Errorf("%w: %v", errUsage, err)
	}
	words = append(words, f.Args()...)
	switch {
	case len(words) == 1 && words[0] == "list":
	case len(words) >= 2 && (words[0] == "link" || words[0] == "sign-out"):
	default:
		return fmt.Errorf("%w: %s", errUsage, accountUsage)
	}
	if *role != "" && !account.Role(*role).Known() {
		return fmt.Errorf("%w: --role is coordinator, crew or viewer", errUsage)
	}
	st, err := store.Open(ctx, filepath.Join(data, databaseName))
	if err != nil {
		return err
	}
	defer st.Close()
	name := strings.Join(words[1:], " ")
	switch words[0] {
	case "link":
		return accountLink(ctx, st, name, account.Role(*role), stdout)
	case "sign-out":
		a, err := st.AccountNamed(ctx, name)
		if err != nil {
			return err
		}
		if err := st.EndSessions(ctx, a.ID); err != nil {
			return err
		}
		fmt.Fprintf(stdout, "%s is signed out everywhere.\n", a.Name)
		return nil
	}
	return accountList(ctx, st, stdout)
}

func accountList(ctx context.Context, st *store.Store, stdout io.Writer) error {
	all, err := st.Accounts(ctx)
	if err != nil {
		return err
	}
	for _, a := range all {
		state := ""
		if a.Disabled {
			state = "  closed"
		}
		fmt.Fprintf(stdout, "%-12s %s%s\n", a.Role, a.Name, state)
	}
	if len(all) == 0 {
		fmt.Fprintln(stdout, "There is no account yet: start the server, it prints the setup link.")
	}
	return nil
}

// accountLink prints the path of a fresh link, after it made, opened or
// promoted the account where a role is given.
func accountLink(ctx context.Context, st *store.Store, name string, role account.Role, stdout io.Writer) error {
	a, err := st.AccountNamed(ctx, name)
	var notThere = fault.KindOf(err) == fault.NotFound
	switch {
	case notThere && role == "":
		return fmt.Errorf("there is no account %q; with --role one is made", name)
	case notThere:
		clean, err := account.CleanName(name)
		if err != nil {
			return err
		}
		a = account.Account{Name: clean, Role: role, Made: time.Now()}
		if err := st.NewAccount(ctx, &a); err != nil {
			return err
		}
	case err != nil:
		return err
	case role != "" && (a.Role != role || a.Disabled):
		a.Role, a.Disabled = role, false
		if err := st.SaveAccount(ctx, &a); err != nil {
			return err
		}
	case a.Disabled:
		return errors.New("this account is closed; --role opens it again")
	}
	token := account.NewToken()
	if err := st.NewLink(ctx, a.ID, account.TokenHash(token), time.Now().Add(linkLife)); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "Open this on your server's address within %d hours; it works once:\n/account/link/%s\n", int(linkLife.Hours()), token)
	return nil
}
