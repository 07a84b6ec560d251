package privacy

import "strings"

// Entry is one table of the database.
type Entry struct {
	Table string
	// Title names it in plain words; About says what of it is about people.
	// About is empty where nothing is.
	Title, About string
	Why          string // what it is needed for
	Seen         string // who sees it
	Kept         string // until when
	Person       string // columns that tell something about somebody, with spaces between
	Secret       string // columns that let somebody in: in no file that is taken out
	Other        string // all the rest
	// Out says why the table is in no file that is taken out; "" when it is.
	Out string
}

// Columns returns the names in one of the lists.
func Columns(list string) []string { return strings.Fields(list) }

// Of returns the entry of a table.
func Of(table string) (Entry, bool) {
	for _, e := range Table {
		if e.Table == table {
			return e, true
		}
	}
	return Entry{}, false
}

// About returns the entries that are about people, in the order of the page.
func About() []Entry {
	var out []Entry
	for _, e := range Table {
		if e.About != "" {
			out = append(out, e)
		}
	}
	return out
}

// How long things are kept, in words that several entries share.
const (
	tillForgotten = "until the volunteer is erased"
	withNight     = "until the night is deleted"
	answersTime   = "as long as the club sets for answers, or until the volunteer is erased"
	historyTime   = "as long as the club sets for histories"
)

// Table is every table of the database.
var Table = []Entry{
	{
		Table: "volunteers", Title: "Volunteers",
		About:  "name, e-mail, phone; whether the crew may see these; whether under age; what they can operate and like to do; no lifting, no ladders, a seat needed, no driving at night (nobody has to say why); languages, usual drive, gear they bring as a rule, notes",
		Why:    "to ask people for nights, to staff a night within what they can and want, and to reach them on the evening",
		Seen:   "names: the crew. E-mail and phone: coordinators, and the crew where the person agreed and is of age. All the rest: coordinators",
		Kept:   tillForgotten + "; e-mail and phone of who took no part for as long as the club sets",
		Person: "name email phone share minor skills roles no_lifting no_ladder must_sit no_night_driving languages drive_minutes notes retired forgotten brings",
		Other:  "id version",
	},
	{
		Table: "consents", Title: "Consent",
		About:  "each time that somebody agreed that the crew may see their e-mail and phone, or took it back, and who recorded it",
		Why:    "to be able to show that there was consent",
		Seen:   "coordinators, and the person",
		Kept:   tillForgotten,
		Person: "volunteer_id at who agreed",
		Other:  "id",
	},
	{
		Table: "night_volunteers", Title: "Answers for a night",
		About:  "whether somebody can come, from when until when, their drive and wishes",
		Why:    "to plan who does what",
		Seen:   "coordinators, and the person",
		Kept:   answersTime,
		Person: "volunteer_id answer from_at to_at drive_minutes wishes",
		Other:  "night_id",
	},
	{
		Table: "night_lifts", Title: "Lifts",
		About:  "free seats or a lift needed, from where, a wish for a duty",
		Why:    "so that people get to the site together",
		Seen:   "whoever is asked for the same night",
		Kept:   answersTime,
		Person: "volunteer_id seats needs place wish",
		Other:  "night_id",
	},
	{
		Table: "packing", Title: "Who brings what",
		About:  "what somebody said they bring or cannot bring",
		Why:    "so that nothing is forgotten at home",
		Seen:   "the crew",
		Kept:   answersTime,
		Person: "volunteer_id brings",
		Other:  "night_id item",
	},
	{
		Table: "duties", Title: "Duties",
		About:  "who did what on a night, from when and how long",
		Why:    "the roster, and the hours that volunteers served",
		Seen:   "the crew; names of operators stand on the cards of their instruments",
		Kept:   withNight + "; once the volunteer is erased it is that of “a volunteer”",
		Person: "volunteer_id role from_at length_seconds",
		Other:  "id night_id instrument_id pinned",
	},
	{
		Table: "attendance", Title: "Who was there",
		About:  "whether somebody was there on a night and how long they served",
		Why:    "the hours that volunteers served",
		Seen:   "coordinators",
		Kept:   withNight + "; once the volunteer is erased it is that of “a volunteer”",
		Person: "volunteer_id there minutes",
		Other:  "night_id",
	},
	{
		Table: "crew_links", Title: "Personal links",
		About:  "that somebody has a personal link, when it was made and last used; the link itself is not kept",
		Why:    "so that a volunteer can answer without an account",
		Seen:   "coordinators",
		Kept:   "until it is revoked or the volunteer is erased",
		Person: "volunteer_id made_at used_at",
		Secret: "hash",
		Out:    "links work only where they were made; new ones are made from the page of a volunteer",
	},
	{
		Table: "gear", Title: "Kit",
		About:  "who owns a piece; notes may name somebody",
		Why:    "to know who brings it and whom to ask",
		Seen:   "everybody with an account",
		Kept:   "the owner until the volunteer is erased, the rest until the piece is deleted",
		Person: "owner_id notes",
		Other:  "id kind version name count retired assumed",
	},
	{
		Table: "club", Title: "The club",
		About:  "the one contact for the night: a telephone number or a place",
		Why:    "so that the crew can ask somebody",
		Seen:   "the crew",
		Kept:   "until it is changed",
		Person: "contact",
		Other:  "id version name paper inches min_altitude ladders spot_longitude",
	},
	{
		Table: "nights", Title: "Nights",
		About:  "notes, which may name somebody",
		Why:    "what the crew should know",
		Seen:   "everybody with an account",
		Kept:   withNight,
		Person: "notes",
		Other: "id version line_up_version roster_version line_up_step name date site_id public_from_at public_seconds block_seconds " +
			"guests audience seeing retired",
	},
	{
		Table: "sites", Title: "Sites",
		About:  "notes, which may name the owner or warden",
		Why:    "who opens the gate",
		Seen:   "coordinators",
		Kept:   "until the site is deleted",
		Person: "notes",
		Other:  "id version name lat lon elev zone horizon brightness ground power ladders retired",
	},
	{
		Table: "night_log", Title: "History of a night",
		About:  "who changed what and when; a change of the roster names whom it is about",
		Why:    "to see what happened and to bring an earlier plan back",
		Seen:   "the crew",
		Kept:   historyTime + ", or until the night is deleted; the name goes when the volunteer is erased",
		Person: "at who what",
		Other:  "id night_id line_up roster",
	},
	{
		Table: "decisions", Title: "Go or no-go",
		About:  "who decided and when",
		Why:    "so that the crew know whose word it was",
		Seen:   "everybody with an account",
		Kept:   historyTime + ", or until the night is deleted",
		Person: "at who",
		Other:  "id night_id verdict words",
	},
	{
		Table: "kept_line_ups", Title: "Kept line-ups",
		About:  "who kept it and when",
		Why:    "to tell them apart",
		Seen:   "everybody with an account",
		Kept:   historyTime + ", or until it is deleted",
		Person: "who at",
		Other:  "id night_id name line_up",
	},
	{
		Table: "bin", Title: "The bin",
		About:  "who put something there and when; the name of a volunteer who left",
		Why:    "so that it can be taken back",
		Seen:   "coordinators",
		Kept:   "30 days",
		Person: "name at who content",
		Other:  "kind ref",
	},
	{
		Table: "imports", Title: "Imports",
		About:  "who brought a table in and when, and what each row was before",
		Why:    "so that it can be taken back",
		Seen:   "coordinators",
		Kept:   "30 days",
		Person: "at who done",
		Other:  "id what",
	},
	{
		Table: "club_log", Title: "History of the club",
		About:  "who did what to the club as a whole: imports, deletions, files taken out",
		Why:    "to see what happened",
		Seen:   "coordinators",
		Kept:   historyTime,
		Person: "at who what",
		Other:  "id",
	},
	{
		Table: "accounts", Title: "Accounts",
		About:  "name, what they may do, when the account was made and last used; the password as a hash only",
		Why:    "to let in whom the club chose, and to note who changed what",
		Seen:   "coordinators, and the person",
		Kept:   "until the account is removed",
		Person: "name role disabled made_at seen_at",
		Secret: "password",
		Other:  "id version epoch",
	},
	{
		Table: "account_links", Title: "Links that set a password",
		About:  "that there is one, and until when; the link itself is not kept",
		Why:    "so that nobody else ever knows a password",
		Seen:   "nobody",
		Kept:   "until it is used, at most three days",
		Person: "account_id expires_at",
		Secret: "hash",
		Out:    "they let somebody in",
	},
	{
		Table: "sessions", Title: "Sessions",
		About:  "that somebody is signed in, and until when",
		Why:    "to stay signed in",
		Seen:   "nobody",
		Kept:   "until the sign-out, or until it ends by itself",
		Person: "expires_at",
		Secret: "hash data",
		Out:    "they let somebody in",
	},
	{
		Table: "passkeys", Title: "Passkeys",
		About:  "what its owner calls it, when it was added and last used; the public half of the key only",
		Why:    "to sign in without a password",
		Seen:   "the person",
		Kept:   "until it is removed, with the account at the latest",
		Person: "account_id name made_at used_at",
		Secret: "handle credential record",
		Other:  "id party",
		Out:    "of no use elsewhere",
	},
	{
		Table: "sign_in_faults", Title: "Refused sign-ins",
		About:  "how often a sign-in was refused lately, by a hash of the name or address",
		Why:    "to slow down whoever guesses passwords",
		Seen:   "nobody",
		Kept:   "a day",
		Person: "count last_at",
		Secret: "key",
		Out:    "of no use elsewhere",
	},
	{
		Table: "weather", Title: "Weather of a night",
		Other: "night_id source attribution issued_at notes",
	},
	{Table: "weather_hours", Title: "Hours of weather", Other: "night_id at temp dew_point rh cloud cloud_low cloud_mid cloud_high wind gust precip precip_prob thunder estimated"},
	{Table: "night_gear", Title: "Kit of a night", Other: "night_id kind gear_id"},
	{Table: "night_targets", Title: "Targets of a night", Other: "night_id target_id position must"},
	{Table: "showings", Title: "Line-up of a night", Other: "id night_id instrument_id target_id eyepiece_id amplifier_id diagonal_id filter_id from_at length_seconds pinned backup_id"},
	{Table: "forbidden_pairs", Title: "What is not shown where", Other: "night_id instrument_id target_id"},
	{Table: "line_up_steps", Title: "Steps of undo", Other: "night_id position log_id"},
	{Table: "site_grounds", Title: "Grounds of sites", Other: "site_id version outline before"},
	{Table: "ground_features", Title: "What stands on a ground", Other: "site_id position kind name points radius width height wheels"},
	{Table: "night_fields", Title: "Fields of nights", Other: "night_id version step"},
	{Table: "night_places", Title: "Places on the field", Other: "night_id instrument_id number x y queue pinned"},
	{Table: "field_steps", Title: "Steps of undo on the field", Other: "night_id position what places"},
	{Table: "put_outs", Title: "When an instrument is put out", Other: "night_id instrument_id put_out_at storage_temp fan_off"},
	{Table: "night_papers", Title: "Papers of a night", Other: "night_id published language"},
	{Table: "papers", Title: "How papers look", Other: "id layout language"},
	{Table: "card_words", Title: "Words on the cards", Other: "language target words before"},
	{Table: "card_languages", Title: "Languages of the cards", Other: "code name texts before at removed"},
	{
		Table: "own_targets", Title: "The club's own targets",
		Other: "id version name designations kind constellation ra dec pm_ra pm_dec magnitude bv major_axis minor_axis position_angle brightness " +
			"distance light_years distance_error double variable reach delight showpiece words source removed elements",
	},
	{Table: "satellites", Title: "Satellites", Other: "id name elements added_at"},
	{
		Table: "instruments", Title: "Instruments",
		Other: "id design aperture focal_length power fixed_field obstruction thickness glass closed_tube fan focuser max_field_stop back_focus " +
			"mount tracking go_to meridian_overrun min_altitude max_altitude eyepiece_place pivot_height pivot_to_eye eye_offset setup_minutes " +
			"needs_collimation weight dew_shield heater mount_power solar_full solar_certified solar_fitted solar_inspected_at storage " +
			"time_constant time_constant_fan stand tube_length image_mirrored",
	},
	{Table: "eyepieces", Title: "Eyepieces", Other: "id focal_length apparent_field field_stop barrel eye_relief class weight"},
	{Table: "amplifiers", Title: "Barlow lenses, reducers, correctors", Other: "id kind factor barrel only_for back_focus"},
	{Table: "diagonals", Title: "Diagonals", Other: "id kind barrel for_id max_stop path_used"},
	{Table: "filters", Title: "Filters", Other: "id kind barrel transmission"},
	{Table: "finders", Title: "Finders", Other: "id kind aperture power field for_id"},
	{Table: "dew_gear", Title: "Dew gear", Other: "id kind min_diameter max_diameter length power for_id"},
	{Table: "batteries", Title: "Batteries", Other: "id kind capacity voltage aged for_id"},
	{Table: "steps", Title: "Steps and chairs", Other: "id kind height"},
	{Table: "last_ids", Title: "Highest numbers given out", Other: "kind id"},
	{Table: "keeping", Title: "How long things are kept", Other: "id version answers_months history_months contacts_months"},
	{
		Table: "crew_rules", Title: "How many people a night needs",
		Other: "id version work_minutes break_minutes least_minutes lead_minutes after_minutes train_minutes per_greeter per_queue_host " +
			"per_guide per_parking per_safety per_set_up per_pack_down minors_guarded laser season_month",
	},
	{
		Table: "go_rules", Title: "Thresholds for go or no-go",
		Other: "id version decide post cloud_doubt cloud_off wind_doubt wind_off gust_doubt gust_off rain_doubt rain_off seeing_doubt " +
			"seeing_off chill_doubt chill_off dew_margin min_hours go_share",
	},
}
