// Package crew holds the volunteers: who they are, what they can operate and
// do, when they have time, and which duties they have on a night.
//
// What flows in: volunteers and their answers, the showings that need an
// operator, the expected guests. What flows out: a roster of duties, found by
// internal/assign, with its gaps in words. Contact data never leaves this
// package's types except where Volunteer.Share allows it.
package crew
