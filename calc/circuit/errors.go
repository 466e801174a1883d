package circuit

import "fmt"

// InputError names an input that is out of range.
type InputError struct {
	Field string  // such as "Wires[3].Ohms"
	Value float64 // what was given
	Limit string  // what is allowed, such as "at least 1e-09 ohm"
}

func (e *InputError) Error() string {
	return fmt.Sprintf("circuit: %s is %g; it must be %s", e.Field, e.Value, e.Limit)
}

// ConflictError reports ideal sources that contradict each other: joined without any
// resistance they would demand two voltages between the same two points.
type ConflictError struct {
	Source int     // index of the source that closes the contradiction
	Volts  float64 // what it demands, V
	Others float64 // what the sources before it and the taps force between its nodes, V
}

func (e *ConflictError) Error() string {
	return fmt.Sprintf("circuit: Sources[%d] demands %g V where %g V is already forced without any resistance between; put a lead in between",
		e.Source, e.Volts, e.Others)
}

// NotConvergedError reports a network whose solution was not reached.
type NotConvergedError struct {
	Residual   float64 // greatest current that does not balance at a node, A
	Step       float64 // greatest last change of a voltage, V
	Iterations int
}

func (e *NotConvergedError) Error() string {
	return fmt.Sprintf("circuit: no convergence after %d iterations: voltages still move by %.3g V, %.3g A do not balance",
		e.Iterations, e.Step, e.Residual)
}
