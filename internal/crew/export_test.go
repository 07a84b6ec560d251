package crew

import "duskboard/internal/assign"

// Problem is the scene as the solver gets it, for a reference from outside.
func Problem(s Scene, pinned []Duty) assign.Problem { return build(&s, pinned).problem }
