package pose_test

import ("testing";"fmt";"math";"tautline/analysis/body";"tautline/analysis/pose")

func TestZZ(t *testing.T) {
	m := body.Adult()
	p := pose.New(m)
	n:=0
	for i, mu := range m.Muscles {
		if mu.Side != body.Right { continue }
		id := body.MuscleID(i)
		has := map[body.MovementID]bool{}
		for _, a := range mu.Actions {
			has[a.Movement]=true
			n++
			mv := m.Movements[a.Movement]
			bad := ""
			for k := 0; k <= 8; k++ {
				v := mv.Lo + (mv.Hi-mv.Lo)*(0.25+0.5*float64(k)/8)
				p.Set(m.Resolve(body.Posture{Positions: []body.Position{{a.Movement, v}}}).Coords)
				p.MeasureOne(id)
				arm := p.MovementArm(id, a.Movement)
				if (arm > 0) != a.Toward { bad += fmt.Sprintf(" %.0f:%.1f", v*180/math.Pi, arm*1000) }
			}
			if bad != "" { fmt.Println("SIGN", mu.Key, mv.Key, a.Toward, bad) }
		}
		// reverse
		p.Set(make([]float64, len(m.Coords)))
		p.MeasureOne(id)
		largest := 0.0
		arms := map[int]float64{}
		for j, mv := range m.Movements {
			if len(mv.Shares)==0 {continue}
			if mv.Side==body.Left {continue}
			arm := p.MovementArm(id, body.MovementID(j))
			arms[j]=arm
			largest = math.Max(largest, math.Abs(arm))
		}
		for j, mv := range m.Movements {
			arm := arms[j]
			if math.Abs(arm) > 0.010 && math.Abs(arm) > 0.25*largest && !has[body.MovementID(j)] {
				fmt.Printf("NOROW %s %s %.1f of %.1f\n", mu.Key, mv.Key, arm*1000, largest*1000)
			}
		}
	}
	fmt.Println(n)
}
