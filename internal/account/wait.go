package account

import "time"

// Slow-down of guessing: the first faults cost nothing, as everybody mistypes;
// then each doubles the wait. A name is slowed for a minute at most, so that a
// stranger cannot lock its owner out for long; an address for a quarter hour.
const (
	freeByName    = 5
	freeByAddress = 20
	mostByName    = time.Minute
	mostByAddress = 15 * time.Minute
	// Forget is after how long without a fault the count starts again.
	Forget = 24 * time.Hour
)

// Wait is how long a further try under the same name has to wait after so many
// faults, the last of them at last; 0 when it need not.
func Wait(faults int64, last, now time.Time) time.Duration {
	return wait(faults-freeByName, mostByName, last, now)
}

// WaitFrom is Wait for tries from the same address.
func WaitFrom(faults int64, last, now time.Time) time.Duration {
	return wait(faults-freeByAddress, mostByAddress, last, now)
}

func wait(over int64, most time.Duration, last, now time.Time) time.Duration {
	if over < 0 || now.Sub(last) > Forget {
		return 0
	}
	pause := most
	if over < 20 { // 2^20 s is beyond every limit
		pause = min(most, time.Second<<over)
	}
	return max(0, last.Add(pause).Sub(now))
}
