// Package project finds the shortest schedule of a project whose tasks share limited resources.
//
// Time is a whole number of slots. A task has one or several modes (duration and amounts of renewable
// resources needed while it is worked on) and may be bound to a calendar of windows; tasks are linked by
// minimum and maximum time lags on the wall clock, and a hold keeps an amount of a resource from the start
// of one task to the end of another, outside windows too. In goes an Instance, out comes a Solution: start,
// end and mode of every task that minimise the end of one task, the Goal, together with a proven lower
// bound, or the reason why there is no schedule.
//
// Methods: serial schedule generation with priority rules and repair of maximum lags (schedule.go),
// forward-backward improvement and a genetic search on orders (improve.go), and an exact search by constraint
// propagation that learns from conflicts (learn*.go), the method known as lazy clause generation, with lags,
// time-tables and energy as its reasons. solve.go says in what order they run and reason.go why there is no
// schedule. The formulas and measurements are in docs/methods/project.md.
//
// Not covered: non-renewable resources, set-up times, preemption other than at the ends of windows, costs.
//
// References: Kolisch, Sprecher (1997) doi:10.1016/S0377-2217(96)00170-1 (the problem and its library);
// Valls, Ballestin, Quintanilla (2005) doi:10.1016/j.ejor.2004.04.008 (justification); Schutt, Feydy,
// Stuckey, Wallace (2011) doi:10.1007/s10601-010-9103-2 and (2013) doi:10.1007/s10951-012-0285-x (learning
// with resources and with maximum lags).
package project
