package kinds

// Date is a kind of day that matters.
type Date string

// The dates.
const (
	DateExpires   Date = "expires"
	DateOpened    Date = "opened"
	DateRotate    Date = "rotate"
	DateOutOfCold Date = "out-of-cold"
	DateLicence   Date = "licence"
	// DateWaiver and DateAudit are of audits alone; the others are facts.
	DateWaiver Date = "waiver"
	DateAudit  Date = "audit"
)

// DateRow is what outputs need to know of a kind of date. Others are told of none.
type DateRow struct {
	Kind Date
	// Due says what falls due; %s stands for what it is of.
	Due string
	// Why says what to do on the day, and where the day comes from.
	Why string
	// Alarms say how many days before it an alarm goes off, at nine in the morning. To get or renew something takes longer than
	// to look through the packs. Common practice, no source.
	Alarms []int
	// Figure says what it is, where it is a figure of two states that are compared; None where it is none.
	Figure string
	// Ahead and Past say on a packing list what the last day of a thing means while it is to come, and once it is over;
	// None where it is no last day of a thing.
	Ahead, Past string
}

// Dates are all kinds of date.
var Dates = []DateRow{
	{
		Kind: DateExpires, Due: "%s: last day by its label", Why: "Replace it. The label decides; the day is as the kit has it", Alarms: []int{30, 7},
		Figure: "expires", Ahead: "expires", Past: "PAST its last day by the label",
	},
	{
		Kind: DateOpened, Due: "%s: last day once opened", Why: "Replace it. Worked out from the day it was opened; the label decides", Alarms: []int{14, 3},
		Figure: "last day once opened", Ahead: "opened, good until", Past: "PAST its last day once opened",
	},
	{
		Kind: DateRotate, Due: "%s: due for replacement", Why: "Replace it on the day that the kit names", Alarms: []int{14, 3},
		Figure: "due for replacement", Ahead: None, Past: None,
	},
	{
		Kind: DateOutOfCold, Due: "%s: last day that it is good, out of the cold", Why: "Replace it. Worked out from the day it left the cold; the label and the pharmacist decide",
		Alarms: []int{7, 2}, Figure: "out of the cold until", Ahead: "out of the cold, good until", Past: "PAST its last day out of the cold",
	},
	{
		Kind: DateLicence, Due: "%s licence: last day", Why: "Renew it; local law decides. The day is as the kit has it", Alarms: []int{60, 14},
		Figure: "licence ends", Ahead: None, Past: None,
	},
	{
		Kind: DateWaiver, Due: "waiver of %s: last day", Why: "Settle the finding or agree on a new day. The day is as the waiver has it", Alarms: []int{14, 3},
		Figure: None, Ahead: None, Past: None,
	},
	{
		Kind: DateAudit, Due: "%sinspect the kits again", Why: "Worked out from the last inspection and the standard's longest interval", Alarms: []int{14, 3},
		Figure: None, Ahead: None, Past: None,
	},
}

// Row is the row of a kind; its Kind is "" where there is no such kind.
func (d Date) Row() DateRow { return row(Dates, func(r *DateRow) Date { return r.Kind }, d) }
