//go:build !linux && !darwin

package store

import "errors"

// freeSpace is not known on this system.
func freeSpace(string) (int64, error) { return 0, errors.ErrUnsupported }
