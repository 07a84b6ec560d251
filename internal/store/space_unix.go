//go:build linux || darwin

package store

import (
	"math"
	"syscall"
)

// freeSpace returns the bytes that the program may still write in dir.
func freeSpace(dir string) (int64, error) {
	var fs syscall.Statfs_t
	if err := syscall.Statfs(dir, &fs); err != nil {
		return 0, err
	}
	return int64(min(fs.Bavail*uint64(fs.Bsize), math.MaxInt64)), nil
}
