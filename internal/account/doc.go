// Package account says who may sign in: roles, what a name and a password have
// to be, how a password is kept, how tokens are made, and how long somebody
// waits who guesses.
//
// It computes only. The rows are in store, the pages and the one table of
// rights in web.
package account
