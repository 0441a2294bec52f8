// Package solve finds least-effort solutions of small convex programs, the
// least and greatest value of a linear measure over all solutions, and the same
// among solutions whose effort stays under a cap. It knows nothing of what the
// variables mean.
//
// # The programs
//
// All share one feasible set, A x = b with lo <= x <= hi, for a matrix of m
// rows and n columns (m in the tens, n in the hundreds):
//
//	least effort:    minimise  1/2 sum w_j x_j^2 + c·x           (Minimise)
//	a bound:         minimise  d·x                                (Bound)
//	a capped bound:  minimise  d·x  where 1/2 sum w_j x_j^2 <= e  (BoundWithin)
//
// Weights may be zero, rows may repeat each other or contradict, and a side
// that cannot be met is a finding: the answer then says by how much each row is
// missed in the least-shortfall way, with a proof that nothing less will do.
//
// # Signs
//
// With a multiplier y_i per row, the reduced cost of column j is
//
//	z_j = w_j x_j + c_j - A_j·y
//
// and at an optimum z_j >= 0 where x_j is at its lower limit, z_j <= 0 at its
// upper limit, and zero between. So y_i is the rise of the least cost per unit
// of b_i.
//
// # Trust
//
// Every answer carries what is needed to check it without solving: Check
// recomputes residuals and the gap to a dual bound from the program alone and
// shares no code with the solvers.
package solve
