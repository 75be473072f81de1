package main

import (
	"os/exec"
	"testing"

	"longgrain/examples"
)

// The frame of the play table against CalculiX, both as whole processes. Take the times as they are printed: 200 times is held to only where the test
// runs in full, since a busy machine disturbs them.
func TestPlayTableAgainstCalculiX(t *testing.T) {
	if testing.Short() {
		t.Skip("runs another solver for some seconds")
	}
	solver, err := exec.LookPath("ccx")
	if err != nil {
		t.Skip("calculix-ccx is not installed, so nothing was compared: sh tools/need.sh ccx")
	}
	d, err := compareDeck(solver, t.TempDir(), []byte(examples.PlayTable()), []byte(examples.Shop()), 1)
	if err != nil {
		t.Fatal(err)
	}
	d.print()
	if d.cases < 30 || d.values < 400 || d.worst > mostMiss {
		t.Errorf("%d cases, %d displacements differ by up to %.2f %% at %s", d.cases, d.values, 100*d.worst, d.worstAt)
	}
	if d.ccxCPU.Seconds() < 200*d.ownCPU.Seconds() && d.times() < 200 {
		t.Errorf("only %.0f times as fast", d.times())
	}
}
