package doseresponse
import ("testing";"fmt";"math";"slices")
func TestZ(t *testing.T){
 for _,tt:=range []struct{d []float64; v [][]int}{{[]float64{2,5},[][]int{{1},{-1}}},{[]float64{4},[][]int{{-1,1}}},{[]float64{1,8},[][]int{{1},{-1}}},{[]float64{1,8},[][]int{{1,1},{-1,-1}}}} {
  s:=eightfold(); q:=quadrature{votes:tt.v}
  for k,d:=range tt.d { tr:=Trial{ID:fmt.Sprint(k),DoseGPerL:d}; for _,v:=range tt.v[k] { tr.Scores=append(tr.Scores,Score{Taster:"A",Vote:&v})}; s.Trials=append(s.Trials,tr); q.x=append(q.x,math.Log(d)-math.Log(8)/2)}
  fmt.Println("exact",q.points(math.Sqrt(math.Log(8)*math.Log(8)/12 + 0.09)))
  for seed:=range 4 { p:=mustFit(t,s,Options{Seed:uint64(seed+1)}); fmt.Printf("  %.3f %.3f %.3f ess %.0f maxw %.4f\n",p.psiQ.low,p.psiQ.mid,p.psiQ.high,p.draws.effective(),slices.Max(p.draws.weight))}
 }
}
