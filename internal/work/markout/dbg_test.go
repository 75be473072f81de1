package markout_test
import ("testing";"fmt")
func TestDbg(t *testing.T){
 a,m := splayed(t,9,6,70)
 for _,n := range []string{"leg front left","leg back right","leg front right"} { i,_ := a.PartNamed(n); fmt.Println(n, a.Parts[i].Kind, m.Sheets[i].Shape, m.Sheets[i].References); for _,f := range a.Parts[i].Features { fmt.Println("  ",f.Kind,f.Side,int64(f.U),int64(f.V),f.OffU,f.OffV,int64(f.Depth),int64(f.Diameter)) } }
}
