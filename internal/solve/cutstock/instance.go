package cutstock

import (
	"fmt"
	"math/bits"
)

// Unlimited as Stock.Available says that any number of pieces can be had.
const Unlimited int64 = -1

// Largest values a checked instance may hold. They keep every sum and product of the package inside int64.
const (
	MaxLength = int64(1) << 44 // 17 km in nanometres
	MaxCost   = int64(1) << 36
	MaxDemand = int64(1) << 20 // pieces of one item, and items in all
)

// Stock is one kind of stock: pieces of equal length and price.
type Stock struct {
	ID        string
	Length    int64
	Cost      int64 // price of one piece, 0 or more
	Available int64 // pieces that can be had, or Unlimited
}

// Item is one kind of part: pieces of equal length.
type Item struct {
	ID     string
	Length int64
	Demand int64 // 0 is allowed and asks for nothing
}

// Leftover is the rule for what an uncut remainder is worth. A remainder shorter than MinLength is worth
// nothing; a longer one is worth SharePerMille thousandths of the price per length of the piece it came from.
// The zero value says that leftovers are worth nothing.
type Leftover struct {
	MinLength     int64
	SharePerMille int64 // 0..1000
}

// Instance is one cutting stock problem. It is read only: Solve and Verify never change it.
type Instance struct {
	Stock    []Stock
	Items    []Item
	Kerf     int64 // lost at each cut
	Trim     int64 // lost at each of the two ends of every piece of stock
	Leftover Leftover
}

// UsableLength is what remains of a piece of stock s when both ends are trimmed; it may be negative.
func (in *Instance) UsableLength(s int) int64 { return in.Stock[s].Length - 2*in.Trim }

// Remainder returns the length left over on a piece of stock s from which count items of summed length are cut.
//
//	r = max(0, U - length - count*kerf)
//
// U is the usable length of the stock. The cut that frees the remainder is paid for, and both end trims are off.
func (in *Instance) Remainder(s int, length, count int64) int64 {
	return max(0, in.UsableLength(s)-length-count*in.Kerf)
}

// LeftoverValue returns what a remainder of stock s is worth, rounded down to whole units of cost.
//
//	v = floor(C * f * r / (1000 * L)) if r >= MinLength, otherwise 0
//
// C, L price and length of the stock; f the share per mille; r the remainder.
func (in *Instance) LeftoverValue(s int, remainder int64) int64 {
	if in.Leftover.SharePerMille == 0 || remainder < in.Leftover.MinLength || remainder <= 0 {
		return 0
	}
	st := in.Stock[s]
	hi, lo := bits.Mul64(uint64(st.Cost*in.Leftover.SharePerMille), uint64(remainder))
	quo, _ := bits.Div64(hi, lo, uint64(1000*st.Length))
	return int64(quo)
}

// check returns what makes the instance meaningless, or "".
func (in *Instance) check() string {
	switch {
	case in.Kerf < 0 || in.Kerf > MaxLength:
		return fmt.Sprintf("kerf is %d; it must be 0 or more", in.Kerf)
	case in.Trim < 0 || in.Trim > MaxLength:
		return fmt.Sprintf("end trim is %d; it must be 0 or more", in.Trim)
	case in.Leftover.SharePerMille < 0 || in.Leftover.SharePerMille > 1000:
		return fmt.Sprintf("leftover share is %d per mille; it must lie between 0 and 1000", in.Leftover.SharePerMille)
	case in.Leftover.MinLength < 0:
		return fmt.Sprintf("usable leftover length is %d; it must be 0 or more", in.Leftover.MinLength)
	}
	for i, st := range in.Stock {
		name := nameOf("stock", st.ID, i)
		switch {
		case st.Length <= 0 || st.Length > MaxLength:
			return fmt.Sprintf("%s has length %d; it must lie between 1 and %d", name, st.Length, MaxLength)
		case st.Cost < 0 || st.Cost > MaxCost:
			return fmt.Sprintf("%s costs %d; the cost must lie between 0 and %d", name, st.Cost, MaxCost)
		case st.Available < 0 && st.Available != Unlimited:
			return fmt.Sprintf("%s has count %d; it must be 0 or more, or Unlimited", name, st.Available)
		}
	}
	total := int64(0)
	for i, it := range in.Items {
		name := nameOf("item", it.ID, i)
		switch {
		case it.Length <= 0 || it.Length > MaxLength:
			return fmt.Sprintf("%s has length %d; it must lie between 1 and %d", name, it.Length, MaxLength)
		case it.Demand < 0 || it.Demand > MaxDemand:
			return fmt.Sprintf("%s has demand %d; it must lie between 0 and %d", name, it.Demand, MaxDemand)
		}
		total += it.Demand
	}
	if total > MaxDemand {
		return fmt.Sprintf("%d items in all; at most %d can be planned", total, MaxDemand)
	}
	return ""
}

// misfit names the first reason, visible without search, why no plan can exist, or returns "".
func (in *Instance) misfit() string {
	longest, pieces := int64(0), int64(0)
	for s, st := range in.Stock {
		if st.Available != 0 {
			longest = max(longest, in.UsableLength(s))
			pieces++
		}
	}
	for i, it := range in.Items {
		switch {
		case it.Demand == 0:
		case pieces == 0:
			return fmt.Sprintf("there is no stock to cut %s from", nameOf("item", it.ID, i))
		case it.Length > longest:
			return fmt.Sprintf("%s is %d long; the longest stock gives %d between its end trims",
				nameOf("item", it.ID, i), it.Length, longest)
		}
	}
	for i, it := range in.Items {
		if it.Demand == 0 {
			continue
		}
		if most := in.mostOf(it.Length); most >= 0 && most < it.Demand {
			return fmt.Sprintf("the stock at hand gives at most %d of the %d pieces of %s", most, it.Demand, nameOf("item", it.ID, i))
		}
	}
	return ""
}

// mostOf returns how many items of one length the whole stock can give, or -1 when there is no limit.
func (in *Instance) mostOf(length int64) int64 {
	most := int64(0)
	for s, st := range in.Stock {
		each := (in.UsableLength(s) + in.Kerf) / (length + in.Kerf)
		switch {
		case in.UsableLength(s) < length || st.Available == 0:
		case st.Available == Unlimited:
			return -1
		default:
			most = min(MaxDemand, most+min(each, MaxDemand)*min(st.Available, MaxDemand))
		}
	}
	return most
}

// nameOf names the i-th entry of a list for a reader: by its ID, or by its place when it has none.
func nameOf(what, id string, i int) string {
	if id == "" {
		return fmt.Sprintf("%s %d", what, i+1)
	}
	return fmt.Sprintf("%s %q", what, id)
}
