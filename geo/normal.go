package geo

// Quantiles of the normal distribution that results are stated with. Source: any
// table of the normal and the chi-square distribution; NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.6.7.
const (
	// Within95 is how many standard deviations about the middle of a round
	// normal distribution of the plane hold 95 %: √χ²(0.95; 2) = √(−2 ln 0.05).
	Within95 = 2.4477468306808166

	// Between95 is how many standard deviations to either side of a mean hold
	// 95 %, as it is usually rounded.
	Between95 = 1.96

	// Below95 is how many standard deviations above a mean 95 % lie below, as it
	// is usually rounded.
	Below95 = 1.645
)
