// Package crew holds the volunteers: who they are, what they can operate and
// do, when they have time, and which duties they have on a night.
//
// What flows in: volunteers and their answers, the showings that need an
// operator, the expected guests, the hours of the season: a [Scene]. What flows
// out: a roster of duties, found by internal/assign ([Propose]), what it leaves
// open and who could help ([Scene.Gaps], [Scene.Parked]), what it breaks
// ([Scene.Check]), where it and the line-up do not agree ([Scene.Unstaffed]),
// who could take a duty over ([Scene.Offers]) and what follows when somebody
// drops out ([Scene.Drop]). Contact data never leaves this package's types
// except where Volunteer.Share allows it.
//
// # Design
//
// People are agents, posts are options, needs are covers: a person on a post
// that is full earns nothing, so places need no capacity, and a short overlap
// lets one relieve another. Teachers and adults are given, learners and minors
// take them: capacities of zero with negative units. What a person adds (their
// own instrument, a wish, fairness over the season) is small against the
// weights of needs: it decides who, never whether.
//
// A pin of the coordinator is kept whatever it breaks; Check says what. Check
// shares no code with the making of the problem, so the tests let each guard
// the other.
package crew
