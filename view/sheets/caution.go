package sheets

import "risewright/model"

// Caution is what can hurt people at this work, and what to do about it. It is
// no limit and stops nothing; local rules and licensed people come first.
type Caution struct {
	Title    string
	Text     string
	Standing model.Standing
	Source   string // in words, beside the standing
}

// Cautions returns the cautions of the survey sheet, worst first.
func Cautions() []Caution {
	const practice = "common practice, no source"
	return []Caution{
		{"Lead paint", "In a house built before about 1980 take old paint for leaded until a test says otherwise. Do not dry-sand, scrape or burn it. In the US, paid work that disturbs more than 6 sq ft of paint in a room of a house from before 1978 comes under federal lead rules. Keep children and pregnant women away.", model.Secondary, "summaries of the US rule; other countries have their own"},
		{"Asbestos", "Old floor tiles, sheet flooring, their backing and black adhesive may hold asbestos. Do not sand, grind, break or dry-scrape them; have a sample tested first and leave removal to licensed people.", model.Memory, "not looked up: ask your local authority"},
		{"A stair out of use", "It is usually the only way to bed and the way out in a fire. Every night: all steps solid and of equal height, no staples, handrail on, lights working. Bar both ends while it is not safe to walk.", model.Memory, practice},
		{"Staples and grippers", "Gloves, stout soles and a full sweep before anybody kneels or walks in socks. Count grippers out of the house.", model.Memory, practice},
		{"Falls", "Keep the old rail until the new one is fixed. Do not kneel with your back to a drop, and keep tools off the treads.", model.Memory, practice},
		{"Dust", "Dust of hardwood, MDF and old finishes harms the lungs: extract at the saw, wear a fitted mask, screen the rooms, and clean with a vacuum, not a broom.", model.Memory, practice},
		{"Finishes", "Rags and sanding dust wet with oil finish heat by themselves and catch fire: lay them flat to dry out of doors, or in a closed metal can of water, the same day. Air the rooms as the safety data sheet says, and keep people off a wet stair.", model.Seen, "fires: NFPA, Safety with Oily Rags; what to do: common practice"},
		{"Electricity", "Before you screw, cut or notch, find what runs behind. Mains is for a licensed electrician.", model.Memory, practice},
		{"Structure", "Do not notch or cut carriages, newels or trimmers; ask a builder or an engineer first.", model.Memory, practice},
	}
}

// cautionOf returns the text of a caution by its title.
func cautionOf(title string) string {
	for _, c := range Cautions() {
		if c.Title == title {
			return c.Text
		}
	}
	return ""
}
