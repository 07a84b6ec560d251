package privacy

// DailyCopies is how many daily copies are kept unless whoever runs the server
// says otherwise: what the server does and what the page about privacy says.
const DailyCopies = 7
