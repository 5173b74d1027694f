package scan

// The verbs about battery and fuel.
const (
	BatteryOff Word = "BATTERY OFF"
	BatteryOn  Word = "BATTERY ON"
	FuelOff    Word = "FUEL OFF"
	FuelOn     Word = "FUEL ON"
)
