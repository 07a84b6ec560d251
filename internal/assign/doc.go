// Package assign plans who does what when: agents over blocks of time, each
// doing one option at a time, with shared capacities, costs of change and
// bonuses. It knows nothing of what the agents are.
package assign
