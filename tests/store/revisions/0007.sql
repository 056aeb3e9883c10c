CREATE TABLE access_word (
	id INTEGER NOT NULL, 
	job_id INTEGER NOT NULL, 
	word TEXT NOT NULL, 
	kept_us INTEGER NOT NULL, 
	CONSTRAINT pk_access_word PRIMARY KEY (id), 
	CONSTRAINT fk_access_word_job_id_repair_job FOREIGN KEY(job_id) REFERENCES repair_job (id)
)
 STRICT;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
CREATE TABLE booking_key (
	"key" TEXT NOT NULL, 
	journal_id INTEGER NOT NULL, 
	asked TEXT NOT NULL, 
	CONSTRAINT pk_booking_key PRIMARY KEY ("key"), 
	CONSTRAINT ck_booking_key_key CHECK (length(key) BETWEEN 1 AND 100), 
	CONSTRAINT fk_booking_key_journal_id_journal FOREIGN KEY(journal_id) REFERENCES journal (id)
)
 STRICT;
CREATE TABLE channel (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	fee_per_10000 INTEGER NOT NULL, 
	fee_fixed_minor INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_channel PRIMARY KEY (id), 
	CONSTRAINT ck_channel_share CHECK (fee_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_channel_fixed CHECK (fee_fixed_minor >= 0), 
	CONSTRAINT ck_channel_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE comeback (
	id INTEGER NOT NULL, 
	sale_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	reason TEXT NOT NULL, 
	refund_minor INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	undoes INTEGER NOT NULL, 
	fee_back_minor INTEGER NOT NULL, 
	postage_minor INTEGER, 
	fault_id INTEGER, 
	CONSTRAINT pk_comeback PRIMARY KEY (id), 
	CONSTRAINT ck_comeback_refund CHECK (refund_minor >= 0), 
	CONSTRAINT ck_comeback_fee_back CHECK (fee_back_minor >= 0), 
	CONSTRAINT ck_comeback_postage CHECK (postage_minor IS NULL OR postage_minor >= 0), 
	CONSTRAINT ck_comeback_undoes CHECK (undoes IN (0, 1)), 
	CONSTRAINT ck_comeback_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_comeback_sale_id_sale FOREIGN KEY(sale_id) REFERENCES sale (id), 
	CONSTRAINT fk_comeback_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_comeback_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE component (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	maker_number TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	place TEXT NOT NULL, 
	gone TEXT NOT NULL, 
	gone_us INTEGER, 
	note TEXT NOT NULL, 
	price_minor INTEGER NOT NULL, 
	bears_unit_id INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_component PRIMARY KEY (id), 
	CONSTRAINT ck_component_gone CHECK (gone IN ('', 'sold', 'scrapped', 'sent back')), 
	CONSTRAINT ck_component_gone_us CHECK ((gone = '') = (gone_us IS NULL)), 
	CONSTRAINT ck_component_price CHECK (price_minor >= 0 AND (price_minor = 0 OR gone = 'sold')), 
	CONSTRAINT ck_component_bears CHECK (bears_unit_id IS NULL OR gone IN ('scrapped', 'sent back')), 
	CONSTRAINT ck_component_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_component_bears_unit_id_unit FOREIGN KEY(bears_unit_id) REFERENCES unit (id)
)
 STRICT;
CREATE TABLE consumable (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	base_unit TEXT NOT NULL, 
	pack_quantity INTEGER NOT NULL, 
	lead_days INTEGER NOT NULL, 
	shelf_life_days INTEGER, 
	reorder_quantity INTEGER, 
	hazard TEXT NOT NULL, 
	code TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_consumable PRIMARY KEY (id), 
	CONSTRAINT ck_consumable_base_unit CHECK (base_unit IN ('ml', 'g', 'm', 'piece')), 
	CONSTRAINT ck_consumable_pack CHECK (pack_quantity > 0), 
	CONSTRAINT ck_consumable_lead CHECK (lead_days >= 0), 
	CONSTRAINT ck_consumable_shelf CHECK (shelf_life_days IS NULL OR shelf_life_days > 0), 
	CONSTRAINT ck_consumable_reorder CHECK (reorder_quantity IS NULL OR reorder_quantity >= 0), 
	CONSTRAINT ck_consumable_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE correction (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	time_entry_id INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	old_started_us INTEGER NOT NULL, 
	old_stopped_us INTEGER, 
	new_started_us INTEGER NOT NULL, 
	new_stopped_us INTEGER, 
	reason TEXT NOT NULL, 
	CONSTRAINT fk_correction_time_entry_id_time_entry FOREIGN KEY(time_entry_id) REFERENCES time_entry (id), 
	CONSTRAINT fk_correction_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE draft (
	form TEXT NOT NULL, 
	body TEXT NOT NULL, 
	saved_us INTEGER NOT NULL, 
	CONSTRAINT pk_draft PRIMARY KEY (form)
)
 STRICT;
CREATE TABLE drive (
	id INTEGER NOT NULL, 
	unit_id INTEGER, 
	maker TEXT NOT NULL, 
	model TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	media_type TEXT NOT NULL, 
	media_number TEXT NOT NULL, 
	size_bytes INTEGER, 
	came_from TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	came_in_unit_id INTEGER, 
	outside_us INTEGER, 
	CONSTRAINT pk_drive PRIMARY KEY (id), 
	CONSTRAINT ck_drive_size CHECK (size_bytes IS NULL OR size_bytes > 0), 
	CONSTRAINT ck_drive_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_drive_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_drive_came_in_unit_id_unit FOREIGN KEY(came_in_unit_id) REFERENCES unit (id)
)
 STRICT;
CREATE TABLE expense (
	id INTEGER NOT NULL, 
	day TEXT NOT NULL, 
	side TEXT NOT NULL, 
	category TEXT NOT NULL, 
	amount_minor INTEGER NOT NULL, 
	party TEXT NOT NULL, 
	note TEXT NOT NULL, 
	tax_per_10000 INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_expense PRIMARY KEY (id), 
	CONSTRAINT ck_expense_side CHECK (side IN ('expense', 'income')), 
	CONSTRAINT ck_expense_amount CHECK (amount_minor > 0), 
	CONSTRAINT ck_expense_tax CHECK (tax_per_10000 IS NULL OR tax_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_expense_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE fault (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	symptom TEXT NOT NULL, 
	place TEXT NOT NULL, 
	found_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	task_id INTEGER, 
	stage_id INTEGER, 
	origin TEXT NOT NULL, 
	suspected TEXT NOT NULL, 
	cause TEXT NOT NULL, 
	state TEXT NOT NULL, 
	done TEXT NOT NULL, 
	closed_us INTEGER, 
	closed_by_id INTEGER, 
	closed_by_test_id INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_fault PRIMARY KEY (id), 
	CONSTRAINT ck_fault_place CHECK (place IN ('', 'display', 'lid', 'hinge', 'keyboard', 'touchpad', 'battery', 'charger', 'charging port', 'ports', 'board', 'fan', 'heat sink', 'memory', 'drive', 'camera', 'speakers', 'wireless', 'case', 'screws', 'system', 'other')), 
	CONSTRAINT ck_fault_origin CHECK (origin IN ('unknown', 'before', 'ours', 'part')), 
	CONSTRAINT ck_fault_state CHECK (state IN ('open', 'cured', 'stays')), 
	CONSTRAINT ck_fault_closed CHECK ((state = 'open') = (closed_us IS NULL)), 
	CONSTRAINT ck_fault_closer CHECK ((closed_us IS NULL) = (closed_by_id IS NULL)), 
	CONSTRAINT ck_fault_closing_test CHECK (closed_by_test_id IS NULL OR state = 'cured'), 
	CONSTRAINT ck_fault_told CHECK (state <> 'stays' OR done <> ''), 
	CONSTRAINT ck_fault_symptom CHECK (symptom <> ''), 
	CONSTRAINT ck_fault_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_fault_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_fault_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_fault_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_fault_stage_id_stage FOREIGN KEY(stage_id) REFERENCES stage (id), 
	CONSTRAINT fk_fault_closed_by_id_person FOREIGN KEY(closed_by_id) REFERENCES person (id), 
	CONSTRAINT fk_fault_closed_by_test_id_test_run FOREIGN KEY(closed_by_test_id) REFERENCES test_run (id)
)
 STRICT;
CREATE TABLE file_identity (
	id INTEGER NOT NULL, 
	identity TEXT NOT NULL, 
	mark TEXT NOT NULL, 
	previous TEXT NOT NULL, 
	CONSTRAINT pk_file_identity PRIMARY KEY (id), 
	CONSTRAINT ck_file_identity_one_row CHECK (id = 1)
)
 STRICT;
CREATE TABLE grade (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	part TEXT NOT NULL, 
	function_step_id INTEGER, 
	looks_step_id INTEGER, 
	sentence TEXT NOT NULL, 
	tested INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_grade PRIMARY KEY (id), 
	CONSTRAINT ck_grade_part CHECK (part IN ('whole', 'lid', 'screen', 'keyboard', 'case', 'battery', 'ports')), 
	CONSTRAINT ck_grade_tested CHECK (tested IN (0, 1)), 
	CONSTRAINT ck_grade_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_grade_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_grade_function_step_id_grade_step FOREIGN KEY(function_step_id) REFERENCES grade_step (id), 
	CONSTRAINT fk_grade_looks_step_id_grade_step FOREIGN KEY(looks_step_id) REFERENCES grade_step (id), 
	CONSTRAINT fk_grade_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE grade_step (
	id INTEGER NOT NULL, 
	side TEXT NOT NULL, 
	position INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	meaning TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_grade_step PRIMARY KEY (id), 
	CONSTRAINT ck_grade_step_side CHECK (side IN ('function', 'looks')), 
	CONSTRAINT ck_grade_step_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE journal (
	id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	action TEXT NOT NULL, 
	summary TEXT NOT NULL, 
	via TEXT NOT NULL, 
	unit_id INTEGER, 
	reason TEXT NOT NULL, 
	changes TEXT NOT NULL, 
	takes_back_id INTEGER, 
	shape INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_journal PRIMARY KEY (id), 
	CONSTRAINT ck_journal_via CHECK (via IN ('dashboard', 'command', 'demo')), 
	CONSTRAINT ck_journal_changes CHECK (json_valid(changes)), 
	CONSTRAINT ck_journal_shape CHECK (shape >= 0), 
	CONSTRAINT fk_journal_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_journal_takes_back_id_journal FOREIGN KEY(takes_back_id) REFERENCES journal (id)
)
 STRICT;
CREATE TABLE journal_row (
	table_name TEXT NOT NULL, 
	row_id INTEGER NOT NULL, 
	journal_id INTEGER NOT NULL, 
	CONSTRAINT pk_journal_row PRIMARY KEY (table_name, row_id, journal_id), 
	CONSTRAINT fk_journal_row_journal_id_journal FOREIGN KEY(journal_id) REFERENCES journal (id)
)
 WITHOUT ROWID,
 STRICT;
CREATE TABLE layer_balance (
	layer_id INTEGER NOT NULL, 
	consumable_id INTEGER NOT NULL, 
	quantity INTEGER NOT NULL, 
	cost_minor INTEGER NOT NULL, 
	CONSTRAINT pk_layer_balance PRIMARY KEY (layer_id)
)
 STRICT;
CREATE TABLE lot (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	price_minor INTEGER NOT NULL, 
	bought_on TEXT NOT NULL, 
	party_id INTEGER, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	premium_minor INTEGER NOT NULL, 
	freight_minor INTEGER NOT NULL, 
	CONSTRAINT pk_lot PRIMARY KEY (id), 
	CONSTRAINT ck_lot_price CHECK (price_minor >= 0), 
	CONSTRAINT ck_lot_premium CHECK (premium_minor >= 0), 
	CONSTRAINT ck_lot_freight CHECK (freight_minor >= 0), 
	CONSTRAINT ck_lot_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_lot_party_id_party FOREIGN KEY(party_id) REFERENCES party (id)
)
 STRICT;
CREATE TABLE model_page (
	id INTEGER NOT NULL, 
	maker TEXT NOT NULL, 
	model TEXT NOT NULL, 
	battery TEXT NOT NULL, 
	drives TEXT NOT NULL, 
	memory TEXT NOT NULL, 
	traps TEXT NOT NULL, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_model_page PRIMARY KEY (id), 
	CONSTRAINT ck_model_page_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE model_screw (
	id INTEGER NOT NULL, 
	page_id INTEGER NOT NULL, 
	place TEXT NOT NULL, 
	size TEXT NOT NULL, 
	count INTEGER NOT NULL, 
	torque_mnm INTEGER, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_model_screw PRIMARY KEY (id), 
	CONSTRAINT ck_model_screw_count CHECK ("count" > 0), 
	CONSTRAINT ck_model_screw_torque CHECK (torque_mnm IS NULL OR torque_mnm > 0), 
	CONSTRAINT ck_model_screw_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_model_screw_page_id_model_page FOREIGN KEY(page_id) REFERENCES model_page (id)
)
 STRICT;
CREATE TABLE model_step (
	id INTEGER NOT NULL, 
	page_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	words TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_model_step PRIMARY KEY (id), 
	CONSTRAINT ck_model_step_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_model_step_page_id_model_page FOREIGN KEY(page_id) REFERENCES model_page (id)
)
 STRICT;
CREATE TABLE movement (
	id INTEGER NOT NULL, 
	consumable_id INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	quantity INTEGER NOT NULL, 
	cost_minor INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	layer_id INTEGER, 
	task_id INTEGER, 
	reverses_id INTEGER, 
	supplier TEXT NOT NULL, 
	expires_on TEXT, 
	reason TEXT NOT NULL, 
	CONSTRAINT pk_movement PRIMARY KEY (id), 
	CONSTRAINT ck_movement_kind CHECK (kind IN ('receipt', 'issue', 'count', 'reversal')), 
	CONSTRAINT ck_movement_quantity CHECK (quantity <> 0), 
	CONSTRAINT ck_movement_sign CHECK (cost_minor = 0 OR (cost_minor > 0) = (quantity > 0)), 
	CONSTRAINT ck_movement_receipt CHECK (kind <> 'receipt' OR (quantity > 0 AND layer_id IS NULL)), 
	CONSTRAINT ck_movement_issue CHECK (kind <> 'issue' OR (quantity < 0 AND layer_id IS NOT NULL AND task_id IS NOT NULL)), 
	CONSTRAINT ck_movement_count CHECK (kind <> 'count' OR (quantity > 0) = (layer_id IS NULL)), 
	CONSTRAINT ck_movement_reversal CHECK ((kind = 'reversal') = (reverses_id IS NOT NULL)), 
	CONSTRAINT fk_movement_consumable_id_consumable FOREIGN KEY(consumable_id) REFERENCES consumable (id), 
	CONSTRAINT fk_movement_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_movement_layer_id_movement FOREIGN KEY(layer_id) REFERENCES movement (id), 
	CONSTRAINT fk_movement_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_movement_reverses_id_movement FOREIGN KEY(reverses_id) REFERENCES movement (id)
)
 STRICT;
CREATE TABLE offer (
	id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	maker TEXT NOT NULL, 
	model TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	note TEXT NOT NULL, 
	route_id INTEGER, 
	channel_id INTEGER, 
	party_id INTEGER, 
	asking_minor INTEGER, 
	expected_minor INTEGER NOT NULL, 
	parts_minor INTEGER NOT NULL, 
	findings TEXT NOT NULL, 
	state TEXT NOT NULL, 
	unit_id INTEGER, 
	removed INTEGER NOT NULL, 
	premium_per_10000 INTEGER, 
	freight_minor INTEGER, 
	shipping_minor INTEGER, 
	CONSTRAINT pk_offer PRIMARY KEY (id), 
	CONSTRAINT ck_offer_asking CHECK (asking_minor IS NULL OR asking_minor >= 0), 
	CONSTRAINT ck_offer_expected CHECK (expected_minor >= 0), 
	CONSTRAINT ck_offer_premium CHECK (premium_per_10000 IS NULL OR premium_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_offer_freight CHECK (freight_minor IS NULL OR freight_minor >= 0), 
	CONSTRAINT ck_offer_shipping CHECK (shipping_minor IS NULL OR shipping_minor >= 0), 
	CONSTRAINT ck_offer_findings CHECK (json_valid(findings)), 
	CONSTRAINT ck_offer_state CHECK (state IN ('open', 'bought', 'left')), 
	CONSTRAINT ck_offer_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_offer_route_id_route FOREIGN KEY(route_id) REFERENCES route (id), 
	CONSTRAINT fk_offer_channel_id_channel FOREIGN KEY(channel_id) REFERENCES channel (id), 
	CONSTRAINT fk_offer_party_id_party FOREIGN KEY(party_id) REFERENCES party (id), 
	CONSTRAINT fk_offer_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id)
)
 STRICT;
CREATE TABLE part (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	from_unit_id INTEGER, 
	to_unit_id INTEGER, 
	cost_minor INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	supplier TEXT NOT NULL, 
	note TEXT NOT NULL, 
	drive_id INTEGER, 
	component_id INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	fault_id INTEGER, 
	CONSTRAINT pk_part PRIMARY KEY (id), 
	CONSTRAINT ck_part_two_units CHECK (from_unit_id IS NULL OR to_unit_id IS NULL OR from_unit_id <> to_unit_id), 
	CONSTRAINT ck_part_cost CHECK (cost_minor >= 0), 
	CONSTRAINT ck_part_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_part_from_unit_id_unit FOREIGN KEY(from_unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_part_to_unit_id_unit FOREIGN KEY(to_unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_part_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_part_drive_id_drive FOREIGN KEY(drive_id) REFERENCES drive (id), 
	CONSTRAINT fk_part_component_id_component FOREIGN KEY(component_id) REFERENCES component (id), 
	CONSTRAINT fk_part_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE parts_order (
	id INTEGER NOT NULL, 
	what TEXT NOT NULL, 
	maker_number TEXT NOT NULL, 
	unit_id INTEGER, 
	consumable_id INTEGER, 
	quantity INTEGER, 
	supplier TEXT NOT NULL, 
	price_minor INTEGER, 
	freight_minor INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	wanted_us INTEGER NOT NULL, 
	ordered_on TEXT, 
	due_on TEXT, 
	arrived_on TEXT, 
	faulty_on TEXT, 
	found TEXT NOT NULL, 
	sent_back_on TEXT, 
	refunded_us INTEGER, 
	owed_minor INTEGER NOT NULL, 
	refund_minor INTEGER NOT NULL, 
	refund_unit_id INTEGER, 
	component_id INTEGER, 
	instead_of_id INTEGER, 
	fault_id INTEGER, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_parts_order PRIMARY KEY (id), 
	CONSTRAINT ck_parts_order_state CHECK (state IN ('wanted', 'ordered', 'arrived', 'wrong', 'broken', 'sent back', 'refunded', 'cancelled')), 
	CONSTRAINT ck_parts_order_price CHECK (price_minor IS NULL OR price_minor >= 0), 
	CONSTRAINT ck_parts_order_freight CHECK (freight_minor >= 0), 
	CONSTRAINT ck_parts_order_owed CHECK (owed_minor >= 0 AND refund_minor >= 0), 
	CONSTRAINT ck_parts_order_quantity CHECK ((consumable_id IS NULL) = (quantity IS NULL) AND COALESCE(quantity, 1) > 0), 
	CONSTRAINT ck_parts_order_for_fault CHECK (fault_id IS NULL OR unit_id IS NOT NULL), 
	CONSTRAINT ck_parts_order_either CHECK (consumable_id IS NULL OR (unit_id IS NULL AND component_id IS NULL)), 
	CONSTRAINT ck_parts_order_refunded CHECK ((state = 'refunded') = (refunded_us IS NOT NULL)), 
	CONSTRAINT ck_parts_order_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_parts_order_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_parts_order_consumable_id_consumable FOREIGN KEY(consumable_id) REFERENCES consumable (id), 
	CONSTRAINT fk_parts_order_refund_unit_id_unit FOREIGN KEY(refund_unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_parts_order_component_id_component FOREIGN KEY(component_id) REFERENCES component (id), 
	CONSTRAINT fk_parts_order_instead_of_id_parts_order FOREIGN KEY(instead_of_id) REFERENCES parts_order (id), 
	CONSTRAINT fk_parts_order_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE party (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	address TEXT NOT NULL, 
	contact TEXT NOT NULL, 
	identity_seen TEXT NOT NULL, 
	private INTEGER NOT NULL, 
	erased_us INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_party PRIMARY KEY (id), 
	CONSTRAINT ck_party_private CHECK (private IN (0, 1)), 
	CONSTRAINT ck_party_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE person (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_person PRIMARY KEY (id), 
	CONSTRAINT ck_person_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE photograph (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	folder TEXT NOT NULL, 
	name TEXT NOT NULL, 
	sha256 TEXT NOT NULL, 
	size_bytes INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	taken_us INTEGER, 
	kept_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	task_id INTEGER, 
	grade_id INTEGER, 
	fault_id INTEGER, 
	model_page_id INTEGER, 
	model_step_id INTEGER, 
	shown INTEGER NOT NULL, 
	erased_us INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_photograph PRIMARY KEY (id), 
	CONSTRAINT ck_photograph_kind CHECK (kind IN ('jpeg', 'png', 'webp')), 
	CONSTRAINT ck_photograph_size CHECK (size_bytes > 0), 
	CONSTRAINT ck_photograph_erased CHECK ((erased_us IS NULL) = (name <> '')), 
	CONSTRAINT ck_photograph_sha256 CHECK ((erased_us IS NULL) = (length(sha256) = 64)), 
	CONSTRAINT ck_photograph_model_step CHECK (model_step_id IS NULL OR model_page_id IS NOT NULL), 
	CONSTRAINT ck_photograph_shown CHECK (shown IN (0, 1)), 
	CONSTRAINT ck_photograph_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_photograph_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_photograph_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_photograph_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_photograph_grade_id_grade FOREIGN KEY(grade_id) REFERENCES grade (id), 
	CONSTRAINT fk_photograph_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id), 
	CONSTRAINT fk_photograph_model_page_id_model_page FOREIGN KEY(model_page_id) REFERENCES model_page (id), 
	CONSTRAINT fk_photograph_model_step_id_model_step FOREIGN KEY(model_step_id) REFERENCES model_step (id)
)
 STRICT;
CREATE TABLE photograph_caption (
	id INTEGER NOT NULL, 
	photograph_id INTEGER NOT NULL, 
	caption TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_photograph_caption PRIMARY KEY (id), 
	CONSTRAINT ck_photograph_caption_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_photograph_caption_photograph_id_photograph FOREIGN KEY(photograph_id) REFERENCES photograph (id)
)
 STRICT;
CREATE TABLE purchase (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	unit_id INTEGER NOT NULL, 
	lot_id INTEGER, 
	party_id INTEGER, 
	bought_on TEXT, 
	invoice TEXT NOT NULL, 
	expected_minor INTEGER, 
	donor INTEGER NOT NULL, 
	premium_minor INTEGER NOT NULL, 
	freight_minor INTEGER NOT NULL, 
	shipping_minor INTEGER, 
	CONSTRAINT ck_purchase_expected CHECK (expected_minor IS NULL OR expected_minor >= 0), 
	CONSTRAINT ck_purchase_premium CHECK (premium_minor >= 0), 
	CONSTRAINT ck_purchase_freight CHECK (freight_minor >= 0), 
	CONSTRAINT ck_purchase_shipping CHECK (shipping_minor IS NULL OR shipping_minor >= 0), 
	CONSTRAINT ck_purchase_donor CHECK (donor IN (0, 1)), 
	CONSTRAINT fk_purchase_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_purchase_lot_id_lot FOREIGN KEY(lot_id) REFERENCES lot (id), 
	CONSTRAINT fk_purchase_party_id_party FOREIGN KEY(party_id) REFERENCES party (id)
)
 STRICT;
CREATE TABLE quote_line (
	id INTEGER NOT NULL, 
	job_id INTEGER NOT NULL, 
	what TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	quantity INTEGER NOT NULL, 
	price_minor INTEGER NOT NULL, 
	tax_per_10000 INTEGER NOT NULL, 
	beyond INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_quote_line PRIMARY KEY (id), 
	CONSTRAINT ck_quote_line_kind CHECK (kind IN ('parts', 'labour', 'other', 'allowance')), 
	CONSTRAINT ck_quote_line_quantity CHECK (quantity > 0), 
	CONSTRAINT ck_quote_line_price CHECK (price_minor >= 0), 
	CONSTRAINT ck_quote_line_tax CHECK (tax_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_quote_line_beyond CHECK (beyond IN (0, 1)), 
	CONSTRAINT ck_quote_line_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_quote_line_job_id_repair_job FOREIGN KEY(job_id) REFERENCES repair_job (id)
)
 STRICT;
CREATE TABLE reading (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	drive_id INTEGER, 
	moment TEXT NOT NULL, 
	subject TEXT NOT NULL, 
	source TEXT NOT NULL, 
	figures TEXT NOT NULL, 
	note TEXT NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_reading PRIMARY KEY (id), 
	CONSTRAINT ck_reading_moment CHECK (moment IN ('before', 'after')), 
	CONSTRAINT ck_reading_subject CHECK (subject IN ('battery', 'drive', 'memory', 'heat', 'screen', 'ports', 'keyboard', 'screws')), 
	CONSTRAINT ck_reading_source CHECK (source IN ('typed', 'power_supply', 'nvme_log', 'smartctl')), 
	CONSTRAINT ck_reading_figures CHECK (json_valid(figures)), 
	CONSTRAINT ck_reading_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_reading_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_reading_drive_id_drive FOREIGN KEY(drive_id) REFERENCES drive (id), 
	CONSTRAINT fk_reading_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE repair_job (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	complaint TEXT NOT NULL, 
	came_along TEXT NOT NULL, 
	arrival TEXT NOT NULL, 
	data_consent TEXT NOT NULL, 
	diagnosis TEXT NOT NULL, 
	quoted_on TEXT, 
	quote_until TEXT, 
	answer TEXT, 
	answered_on TEXT, 
	answered_how TEXT NOT NULL, 
	warranty_days INTEGER, 
	ready_on TEXT, 
	collected_on TEXT, 
	way_out_id INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_repair_job PRIMARY KEY (id), 
	CONSTRAINT ck_repair_job_data_consent CHECK (data_consent IN ('', 'may be erased', 'must be kept', 'ask first', 'no access given')), 
	CONSTRAINT ck_repair_job_answer CHECK (answer IS NULL OR answer IN ('accepted', 'declined')), 
	CONSTRAINT ck_repair_job_answered CHECK ((answer IS NULL) = (answered_on IS NULL)), 
	CONSTRAINT ck_repair_job_answered_quote CHECK (answer IS NULL OR quoted_on IS NOT NULL), 
	CONSTRAINT ck_repair_job_collected CHECK ((collected_on IS NULL) = (way_out_id IS NULL)), 
	CONSTRAINT ck_repair_job_warranty CHECK (warranty_days IS NULL OR warranty_days BETWEEN 0 AND 3650), 
	CONSTRAINT ck_repair_job_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_repair_job_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_repair_job_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_repair_job_way_out_id_way_out FOREIGN KEY(way_out_id) REFERENCES way_out (id)
)
 STRICT;
CREATE TABLE route (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_route PRIMARY KEY (id), 
	CONSTRAINT ck_route_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE route_task (
	id INTEGER NOT NULL, 
	route_id INTEGER NOT NULL, 
	stage_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	estimate_minutes INTEGER NOT NULL, 
	unattended INTEGER NOT NULL, 
	lid_off INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	opens INTEGER NOT NULL, 
	hazard TEXT NOT NULL, 
	test TEXT NOT NULL, 
	public INTEGER NOT NULL, 
	CONSTRAINT pk_route_task PRIMARY KEY (id), 
	CONSTRAINT ck_route_task_estimate CHECK (estimate_minutes > 0), 
	CONSTRAINT ck_route_task_unattended CHECK (unattended IN (0, 1)), 
	CONSTRAINT ck_route_task_lid_off CHECK (lid_off IN (0, 1)), 
	CONSTRAINT ck_route_task_opens CHECK (opens IN (0, 1)), 
	CONSTRAINT ck_route_task_hazard CHECK (hazard IN ('', 'solvent', 'hot_air', 'mains', 'glued_cell')), 
	CONSTRAINT ck_route_task_test CHECK (test IN ('', 'soak', 'memory', 'drive', 'screen', 'keyboard', 'ports', 'battery rundown', 'charger under load', 'speed', 'sound', 'camera', 'wireless', 'touchpad')), 
	CONSTRAINT ck_route_task_public CHECK (public IN (0, 1)), 
	CONSTRAINT ck_route_task_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_route_task_route_id_route FOREIGN KEY(route_id) REFERENCES route (id), 
	CONSTRAINT fk_route_task_stage_id_stage FOREIGN KEY(stage_id) REFERENCES stage (id)
)
 STRICT;
CREATE TABLE route_use (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	route_task_id INTEGER NOT NULL, 
	consumable_id INTEGER NOT NULL, 
	quantity INTEGER NOT NULL, 
	CONSTRAINT uq_route_use_route_task_id_consumable_id UNIQUE (route_task_id, consumable_id), 
	CONSTRAINT ck_route_use_quantity CHECK (quantity > 0), 
	CONSTRAINT fk_route_use_route_task_id_route_task FOREIGN KEY(route_task_id) REFERENCES route_task (id), 
	CONSTRAINT fk_route_use_consumable_id_consumable FOREIGN KEY(consumable_id) REFERENCES consumable (id)
)
 STRICT;
CREATE TABLE safety_check (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	unit_id INTEGER NOT NULL, 
	lid_count INTEGER NOT NULL, 
	list TEXT NOT NULL, 
	item TEXT NOT NULL, 
	person_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	screws INTEGER, 
	note TEXT NOT NULL, 
	reason TEXT, 
	CONSTRAINT uq_safety_check_unit_id_lid_count_list_item UNIQUE (unit_id, lid_count, list, item), 
	CONSTRAINT ck_safety_check_list CHECK (list IN ('opening', 'close_up')), 
	CONSTRAINT ck_safety_check_without CHECK ((item = 'without') = (reason IS NOT NULL)), 
	CONSTRAINT fk_safety_check_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_safety_check_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE sale (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	party_id INTEGER, 
	channel_id INTEGER, 
	sold_on TEXT NOT NULL, 
	sold_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	price_minor INTEGER NOT NULL, 
	fee_minor INTEGER NOT NULL, 
	shipping_minor INTEGER NOT NULL, 
	tax_minor INTEGER NOT NULL, 
	invoice TEXT NOT NULL, 
	warranty_until TEXT, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	shipping_known INTEGER NOT NULL, 
	CONSTRAINT pk_sale PRIMARY KEY (id), 
	CONSTRAINT ck_sale_price CHECK (price_minor >= 0), 
	CONSTRAINT ck_sale_fees CHECK (fee_minor >= 0 AND shipping_minor >= 0 AND tax_minor >= 0), 
	CONSTRAINT ck_sale_shipping_known CHECK (shipping_known = 1 OR (shipping_known = 0 AND shipping_minor = 0)), 
	CONSTRAINT ck_sale_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_sale_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_sale_party_id_party FOREIGN KEY(party_id) REFERENCES party (id), 
	CONSTRAINT fk_sale_channel_id_channel FOREIGN KEY(channel_id) REFERENCES channel (id), 
	CONSTRAINT fk_sale_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE shop (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	currency TEXT NOT NULL, 
	zone TEXT NOT NULL, 
	rate_minor_per_hour INTEGER NOT NULL, 
	forgotten_times INTEGER NOT NULL, 
	forgotten_least_minutes INTEGER NOT NULL, 
	next_tag_number INTEGER NOT NULL, 
	CONSTRAINT pk_shop PRIMARY KEY (id), 
	CONSTRAINT ck_shop_one_row CHECK (id = 1), 
	CONSTRAINT ck_shop_currency CHECK (length(currency) = 3), 
	CONSTRAINT ck_shop_rate CHECK (rate_minor_per_hour >= 0), 
	CONSTRAINT ck_shop_forgotten_times CHECK (forgotten_times BETWEEN 1 AND 100), 
	CONSTRAINT ck_shop_forgotten_least CHECK (forgotten_least_minutes BETWEEN 1 AND 10000), 
	CONSTRAINT ck_shop_next_tag CHECK (next_tag_number >= 1)
)
 STRICT;
CREATE TABLE specification (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	source TEXT NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	processor TEXT, 
	cores INTEGER, 
	memory_bytes INTEGER, 
	memory_slots INTEGER, 
	memory_soldered_bytes INTEGER, 
	memory_modules TEXT, 
	memory_seen_bytes INTEGER, 
	drives TEXT, 
	screen_diagonal_mm INTEGER, 
	screen_pixels_across INTEGER, 
	screen_pixels_down INTEGER, 
	screen_panel TEXT, 
	graphics TEXT, 
	wireless TEXT, 
	battery TEXT, 
	battery_design_uwh INTEGER, 
	battery_design_uah INTEGER, 
	keyboard_layout TEXT, 
	colour TEXT, 
	system TEXT, 
	licence TEXT, 
	firmware_version TEXT, 
	firmware_on TEXT, 
	firmware_lock TEXT, 
	account_lock TEXT, 
	file_digest TEXT NOT NULL, 
	told TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_specification PRIMARY KEY (id), 
	CONSTRAINT ck_specification_source CHECK (source IN ('typed', 'collector')), 
	CONSTRAINT ck_specification_memory_modules CHECK (memory_modules IS NULL OR json_valid(memory_modules)), 
	CONSTRAINT ck_specification_drives CHECK (drives IS NULL OR json_valid(drives)), 
	CONSTRAINT ck_specification_cores CHECK (cores IS NULL OR cores >= 0), 
	CONSTRAINT ck_specification_memory CHECK (memory_bytes IS NULL OR memory_bytes >= 0), 
	CONSTRAINT ck_specification_soldered CHECK (memory_soldered_bytes IS NULL OR memory_soldered_bytes >= 0), 
	CONSTRAINT ck_specification_slots CHECK (memory_slots IS NULL OR memory_slots >= 0), 
	CONSTRAINT ck_specification_pixels CHECK ((screen_pixels_across IS NULL) = (screen_pixels_down IS NULL)), 
	CONSTRAINT ck_specification_diagonal CHECK (screen_diagonal_mm IS NULL OR screen_diagonal_mm > 0), 
	CONSTRAINT ck_specification_firmware_lock CHECK (firmware_lock IS NULL OR firmware_lock IN ('none seen', 'locked')), 
	CONSTRAINT ck_specification_account_lock CHECK (account_lock IS NULL OR account_lock IN ('none seen', 'locked')), 
	CONSTRAINT ck_specification_digest CHECK ((source = 'collector') = (file_digest <> '')), 
	CONSTRAINT ck_specification_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_specification_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_specification_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE stage (
	id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	lid_off INTEGER NOT NULL, 
	final INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	lists INTEGER NOT NULL, 
	sells INTEGER NOT NULL, 
	CONSTRAINT pk_stage PRIMARY KEY (id), 
	CONSTRAINT ck_stage_lid_off CHECK (lid_off IN (0, 1)), 
	CONSTRAINT ck_stage_final CHECK (final IN (0, 1)), 
	CONSTRAINT ck_stage_lists CHECK (lists IN (0, 1)), 
	CONSTRAINT ck_stage_sells CHECK (sells IN (0, 1)), 
	CONSTRAINT ck_stage_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE stage_count (
	stage_id INTEGER NOT NULL, 
	units INTEGER NOT NULL, 
	CONSTRAINT pk_stage_count PRIMARY KEY (stage_id)
)
 STRICT;
CREATE TABLE stage_move (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	from_stage_id INTEGER NOT NULL, 
	from_since_us INTEGER NOT NULL, 
	to_stage_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_stage_move PRIMARY KEY (id), 
	CONSTRAINT ck_stage_move_two_stages CHECK (from_stage_id <> to_stage_id), 
	CONSTRAINT ck_stage_move_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_stage_move_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_stage_move_from_stage_id_stage FOREIGN KEY(from_stage_id) REFERENCES stage (id), 
	CONSTRAINT fk_stage_move_to_stage_id_stage FOREIGN KEY(to_stage_id) REFERENCES stage (id), 
	CONSTRAINT fk_stage_move_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE task (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	stage_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	estimate_minutes INTEGER NOT NULL, 
	unattended INTEGER NOT NULL, 
	lid_off INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	ended_us INTEGER, 
	skip_reason TEXT, 
	route_task_id INTEGER, 
	removed INTEGER NOT NULL, 
	opens INTEGER NOT NULL, 
	hazard TEXT NOT NULL, 
	test TEXT NOT NULL, 
	fault_id INTEGER, 
	public INTEGER NOT NULL, 
	CONSTRAINT pk_task PRIMARY KEY (id), 
	CONSTRAINT ck_task_estimate CHECK (estimate_minutes > 0), 
	CONSTRAINT ck_task_unattended CHECK (unattended IN (0, 1)), 
	CONSTRAINT ck_task_lid_off CHECK (lid_off IN (0, 1)), 
	CONSTRAINT ck_task_opens CHECK (opens IN (0, 1)), 
	CONSTRAINT ck_task_hazard CHECK (hazard IN ('', 'solvent', 'hot_air', 'mains', 'glued_cell')), 
	CONSTRAINT ck_task_test CHECK (test IN ('', 'soak', 'memory', 'drive', 'screen', 'keyboard', 'ports', 'battery rundown', 'charger under load', 'speed', 'sound', 'camera', 'wireless', 'touchpad')), 
	CONSTRAINT ck_task_public CHECK (public IN (0, 1)), 
	CONSTRAINT ck_task_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT ck_task_state CHECK (state IN ('todo', 'done', 'skipped')), 
	CONSTRAINT ck_task_ended CHECK ((state = 'todo') = (ended_us IS NULL)), 
	CONSTRAINT ck_task_skipped CHECK ((state = 'skipped') = (skip_reason IS NOT NULL)), 
	CONSTRAINT fk_task_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_task_stage_id_stage FOREIGN KEY(stage_id) REFERENCES stage (id), 
	CONSTRAINT fk_task_route_task_id_route_task FOREIGN KEY(route_task_id) REFERENCES route_task (id), 
	CONSTRAINT fk_task_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE task_power (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	watts INTEGER NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_task_power PRIMARY KEY (id), 
	CONSTRAINT ck_task_power_watts CHECK (watts BETWEEN 0 AND 5000), 
	CONSTRAINT ck_task_power_removed CHECK (removed IN (0, 1))
)
 STRICT;
CREATE TABLE task_use (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	task_id INTEGER NOT NULL, 
	consumable_id INTEGER NOT NULL, 
	quantity INTEGER NOT NULL, 
	CONSTRAINT uq_task_use_task_id_consumable_id UNIQUE (task_id, consumable_id), 
	CONSTRAINT ck_task_use_quantity CHECK (quantity > 0), 
	CONSTRAINT fk_task_use_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_task_use_consumable_id_consumable FOREIGN KEY(consumable_id) REFERENCES consumable (id)
)
 STRICT;
CREATE TABLE task_wait (
	id INTEGER NOT NULL, 
	task_id INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	waived TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_task_wait PRIMARY KEY (id), 
	CONSTRAINT ck_task_wait_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_task_wait_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_task_wait_order_id_parts_order FOREIGN KEY(order_id) REFERENCES parts_order (id)
)
 STRICT;
CREATE TABLE test_run (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	task_id INTEGER, 
	kind TEXT NOT NULL, 
	outcome TEXT NOT NULL, 
	ran_us INTEGER, 
	figures TEXT NOT NULL, 
	note TEXT NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	fault_id INTEGER, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_test_run PRIMARY KEY (id), 
	CONSTRAINT ck_test_run_kind CHECK (kind IN ('soak', 'memory', 'drive', 'screen', 'keyboard', 'ports', 'battery rundown', 'charger under load', 'speed', 'sound', 'camera', 'wireless', 'touchpad')), 
	CONSTRAINT ck_test_run_outcome CHECK (outcome IN ('passed', 'failed', 'broken off')), 
	CONSTRAINT ck_test_run_ran CHECK (ran_us IS NULL OR ran_us >= 0), 
	CONSTRAINT ck_test_run_figures CHECK (json_valid(figures)), 
	CONSTRAINT ck_test_run_fault CHECK (fault_id IS NULL OR outcome <> 'passed'), 
	CONSTRAINT ck_test_run_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_test_run_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_test_run_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_test_run_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_test_run_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE time_entry (
	id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT, 
	task_id INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	started_us INTEGER NOT NULL, 
	stopped_us INTEGER, 
	attended INTEGER NOT NULL, 
	note TEXT NOT NULL, 
	kept_us INTEGER, 
	steady_us INTEGER, 
	boot TEXT NOT NULL, 
	fault_id INTEGER, 
	CONSTRAINT ck_time_entry_attended CHECK (attended IN (0, 1)), 
	CONSTRAINT ck_time_entry_length CHECK (stopped_us IS NULL OR stopped_us >= started_us), 
	CONSTRAINT fk_time_entry_task_id_task FOREIGN KEY(task_id) REFERENCES task (id), 
	CONSTRAINT fk_time_entry_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_time_entry_fault_id_fault FOREIGN KEY(fault_id) REFERENCES fault (id)
)
 STRICT;
CREATE TABLE trade (
	id INTEGER NOT NULL, 
	margin_scheme INTEGER NOT NULL, 
	margin_tax_per_10000 INTEGER NOT NULL, 
	hold_days INTEGER NOT NULL, 
	keep_private_years INTEGER NOT NULL, 
	risk_reserve_per_10000 INTEGER NOT NULL, 
	wanted_margin_minor INTEGER NOT NULL, 
	warranty_days INTEGER NOT NULL, 
	loss_chance_per_10000 INTEGER NOT NULL, 
	repair_tax_per_10000 INTEGER NOT NULL, 
	quote_days INTEGER NOT NULL, 
	repair_warranty_days INTEGER NOT NULL, 
	uncollected_days INTEGER NOT NULL, 
	machine_watts INTEGER, 
	mwh_price_minor INTEGER, 
	listing_template TEXT NOT NULL, 
	listing_shipping TEXT NOT NULL, 
	CONSTRAINT pk_trade PRIMARY KEY (id), 
	CONSTRAINT ck_trade_one_row CHECK (id = 1), 
	CONSTRAINT ck_trade_margin_scheme CHECK (margin_scheme IN (0, 1)), 
	CONSTRAINT ck_trade_margin_tax CHECK (margin_tax_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_trade_hold_days CHECK (hold_days BETWEEN 0 AND 365), 
	CONSTRAINT ck_trade_keep_private CHECK (keep_private_years BETWEEN 0 AND 100), 
	CONSTRAINT ck_trade_risk_reserve CHECK (risk_reserve_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_trade_wanted_margin CHECK (wanted_margin_minor >= 0), 
	CONSTRAINT ck_trade_loss_chance CHECK (loss_chance_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_trade_warranty_days CHECK (warranty_days BETWEEN 0 AND 3650), 
	CONSTRAINT ck_trade_repair_tax CHECK (repair_tax_per_10000 BETWEEN 0 AND 10000), 
	CONSTRAINT ck_trade_quote_days CHECK (quote_days BETWEEN 0 AND 3650), 
	CONSTRAINT ck_trade_repair_warranty CHECK (repair_warranty_days BETWEEN 0 AND 3650), 
	CONSTRAINT ck_trade_uncollected CHECK (uncollected_days BETWEEN 0 AND 3650), 
	CONSTRAINT ck_trade_machine_watts CHECK (machine_watts IS NULL OR machine_watts BETWEEN 0 AND 5000), 
	CONSTRAINT ck_trade_mwh_price CHECK (mwh_price_minor IS NULL OR mwh_price_minor >= 0)
)
 STRICT;
CREATE TABLE unit (
	id INTEGER NOT NULL, 
	tag TEXT NOT NULL, 
	maker TEXT NOT NULL, 
	model TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	note TEXT NOT NULL, 
	route_id INTEGER, 
	stage_id INTEGER NOT NULL, 
	stage_since_us INTEGER NOT NULL, 
	added_us INTEGER NOT NULL, 
	due_on TEXT, 
	price_minor INTEGER, 
	owner_id INTEGER, 
	held_reason TEXT, 
	held_us INTEGER, 
	lid_off INTEGER NOT NULL, 
	lid_count INTEGER NOT NULL, 
	screws_out INTEGER, 
	cell_finding TEXT, 
	removed INTEGER NOT NULL, 
	opened_us INTEGER, 
	back_us INTEGER, 
	CONSTRAINT pk_unit PRIMARY KEY (id), 
	CONSTRAINT ck_unit_lid_off CHECK (lid_off IN (0, 1)), 
	CONSTRAINT ck_unit_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT ck_unit_lid_count CHECK (lid_count >= 0), 
	CONSTRAINT ck_unit_price CHECK (price_minor IS NULL OR price_minor >= 0), 
	CONSTRAINT ck_unit_screws CHECK (screws_out IS NULL OR screws_out >= 0), 
	CONSTRAINT ck_unit_held CHECK ((held_reason IS NULL) = (held_us IS NULL)), 
	CONSTRAINT ck_unit_cell CHECK (cell_finding IS NULL OR cell_finding IN ('swollen', 'punctured', 'wet')), 
	CONSTRAINT ck_unit_tag CHECK (tag NOT GLOB '*[^0-9]*' AND length(tag) >= 2), 
	CONSTRAINT fk_unit_route_id_route FOREIGN KEY(route_id) REFERENCES route (id), 
	CONSTRAINT fk_unit_stage_id_stage FOREIGN KEY(stage_id) REFERENCES stage (id), 
	CONSTRAINT fk_unit_owner_id_party FOREIGN KEY(owner_id) REFERENCES party (id)
)
 STRICT;
CREATE TABLE unit_listing (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	price_minor INTEGER, 
	shipping TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_unit_listing PRIMARY KEY (id), 
	CONSTRAINT ck_unit_listing_price CHECK (price_minor IS NULL OR price_minor >= 0), 
	CONSTRAINT ck_unit_listing_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_unit_listing_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id)
)
 STRICT;
CREATE TABLE unsettled_sale (
	unit_id INTEGER NOT NULL, 
	unrecorded INTEGER NOT NULL, 
	undone INTEGER NOT NULL, 
	CONSTRAINT pk_unsettled_sale PRIMARY KEY (unit_id), 
	CONSTRAINT ck_unsettled_sale_unrecorded CHECK (unrecorded IN (0, 1)), 
	CONSTRAINT ck_unsettled_sale_undone CHECK (undone IN (0, 1))
)
 STRICT;
CREATE TABLE unwiped (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	person_id INTEGER NOT NULL, 
	at_us INTEGER NOT NULL, 
	reason TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	covers TEXT NOT NULL, 
	CONSTRAINT pk_unwiped PRIMARY KEY (id), 
	CONSTRAINT ck_unwiped_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_unwiped_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_unwiped_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE way_count (
	stage_id INTEGER NOT NULL, 
	way TEXT NOT NULL, 
	units INTEGER NOT NULL, 
	CONSTRAINT pk_way_count PRIMARY KEY (stage_id, way)
)
 STRICT;
CREATE TABLE way_estimate (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	way TEXT NOT NULL, 
	price_minor INTEGER, 
	minutes INTEGER, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_way_estimate PRIMARY KEY (id), 
	CONSTRAINT ck_way_estimate_way CHECK (way IN ('as is', 'parts')), 
	CONSTRAINT ck_way_estimate_price CHECK (price_minor IS NULL OR price_minor >= 0), 
	CONSTRAINT ck_way_estimate_minutes CHECK (minutes IS NULL OR minutes >= 0), 
	CONSTRAINT ck_way_estimate_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_way_estimate_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id)
)
 STRICT;
CREATE TABLE way_out (
	id INTEGER NOT NULL, 
	unit_id INTEGER NOT NULL, 
	way TEXT NOT NULL, 
	at_us INTEGER NOT NULL, 
	person_id INTEGER, 
	note TEXT NOT NULL, 
	price_minor INTEGER, 
	proceeds_minor INTEGER NOT NULL, 
	ended_us INTEGER, 
	removed INTEGER NOT NULL, 
	tax_minor INTEGER NOT NULL, 
	CONSTRAINT pk_way_out PRIMARY KEY (id), 
	CONSTRAINT ck_way_out_way CHECK (way IN ('sold', 'handed back', 'kept', 'scrapped', 'parts')), 
	CONSTRAINT ck_way_out_price CHECK (price_minor IS NULL OR price_minor >= 0), 
	CONSTRAINT ck_way_out_proceeds CHECK (proceeds_minor >= 0), 
	CONSTRAINT ck_way_out_tax CHECK (tax_minor BETWEEN 0 AND COALESCE(price_minor, 0)), 
	CONSTRAINT ck_way_out_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_way_out_unit_id_unit FOREIGN KEY(unit_id) REFERENCES unit (id), 
	CONSTRAINT fk_way_out_person_id_person FOREIGN KEY(person_id) REFERENCES person (id)
)
 STRICT;
CREATE TABLE wipe (
	id INTEGER NOT NULL, 
	drive_id INTEGER NOT NULL, 
	method TEXT NOT NULL, 
	technique TEXT NOT NULL, 
	tool TEXT NOT NULL, 
	tool_version TEXT NOT NULL, 
	confidentiality_before TEXT NOT NULL, 
	confidentiality_after TEXT NOT NULL, 
	destination TEXT NOT NULL, 
	location TEXT NOT NULL, 
	title TEXT NOT NULL, 
	contact TEXT NOT NULL, 
	person_id INTEGER NOT NULL, 
	wiped_us INTEGER NOT NULL, 
	verification TEXT NOT NULL, 
	result TEXT NOT NULL, 
	verified_by_id INTEGER, 
	verified_us INTEGER, 
	verifier_title TEXT NOT NULL, 
	verifier_location TEXT NOT NULL, 
	verifier_contact TEXT NOT NULL, 
	note TEXT NOT NULL, 
	removed INTEGER NOT NULL, 
	CONSTRAINT pk_wipe PRIMARY KEY (id), 
	CONSTRAINT ck_wipe_method CHECK (method IN ('clear', 'purge', 'destroy')), 
	CONSTRAINT ck_wipe_result CHECK (result IN ('passed', 'failed', 'not verified')), 
	CONSTRAINT ck_wipe_verified CHECK ((result = 'not verified') = (verified_us IS NULL)), 
	CONSTRAINT ck_wipe_removed CHECK (removed IN (0, 1)), 
	CONSTRAINT fk_wipe_drive_id_drive FOREIGN KEY(drive_id) REFERENCES drive (id), 
	CONSTRAINT fk_wipe_person_id_person FOREIGN KEY(person_id) REFERENCES person (id), 
	CONSTRAINT fk_wipe_verified_by_id_person FOREIGN KEY(verified_by_id) REFERENCES person (id)
)
 STRICT;
CREATE INDEX ix_comeback_at_us ON comeback (at_us);
CREATE INDEX ix_comeback_fault_id ON comeback (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_comeback_sale_id ON comeback (sale_id);
CREATE INDEX ix_component_bears_unit_id ON component (bears_unit_id);
CREATE INDEX ix_component_gone_us ON component (gone_us) WHERE gone_us IS NOT NULL;
CREATE INDEX ix_correction_time_entry_id ON correction (time_entry_id);
CREATE INDEX ix_drive_came_in_unit_id ON drive (came_in_unit_id);
CREATE INDEX ix_drive_serial ON drive (serial);
CREATE INDEX ix_drive_unit_id ON drive (unit_id);
CREATE INDEX ix_expense_category ON expense (category COLLATE NOCASE, id);
CREATE INDEX ix_expense_day ON expense (day);
CREATE INDEX ix_fault_closed_by_test_id ON fault (closed_by_test_id) WHERE closed_by_test_id IS NOT NULL;
CREATE INDEX ix_fault_open ON fault (unit_id, found_us) WHERE state = 'open' AND removed = 0;
CREATE INDEX ix_fault_task_id ON fault (task_id) WHERE task_id IS NOT NULL;
CREATE INDEX ix_fault_unit_id ON fault (unit_id, state);
CREATE INDEX ix_grade_unit_id ON grade (unit_id);
CREATE INDEX ix_journal_person_id ON journal (person_id);
CREATE INDEX ix_journal_unit_id ON journal (unit_id);
CREATE INDEX ix_layer_balance_consumable_id ON layer_balance (consumable_id, quantity);
CREATE INDEX ix_lot_party_id ON lot (party_id);
CREATE INDEX ix_model_screw_page_id ON model_screw (page_id);
CREATE INDEX ix_model_step_page_id ON model_step (page_id, position);
CREATE INDEX ix_movement_booked ON movement (consumable_id);
CREATE INDEX ix_movement_consumable_id ON movement (consumable_id, at_us, kind, quantity);
CREATE INDEX ix_movement_count ON movement (consumable_id) WHERE kind = 'count';
CREATE INDEX ix_movement_layer_id ON movement (layer_id);
CREATE INDEX ix_movement_task_id ON movement (task_id);
CREATE INDEX ix_offer_party_id ON offer (party_id);
CREATE INDEX ix_offer_state ON offer (state);
CREATE INDEX ix_offer_unit_id ON offer (unit_id);
CREATE INDEX ix_part_component_id ON part (component_id, removed, to_unit_id, from_unit_id);
CREATE INDEX ix_part_drive_id ON part (drive_id);
CREATE INDEX ix_part_fault_id ON part (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_part_from_unit_id ON part (from_unit_id);
CREATE INDEX ix_part_to_unit_id ON part (to_unit_id);
CREATE INDEX ix_parts_order_component_id ON parts_order (component_id);
CREATE INDEX ix_parts_order_consumable_id ON parts_order (consumable_id);
CREATE INDEX ix_parts_order_fault_id ON parts_order (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_parts_order_instead_of_id ON parts_order (instead_of_id);
CREATE INDEX ix_parts_order_refund_unit_id ON parts_order (refund_unit_id);
CREATE INDEX ix_parts_order_refunded_us ON parts_order (refunded_us) WHERE refunded_us IS NOT NULL;
CREATE INDEX ix_parts_order_under_way ON parts_order (due_on) WHERE state IN ('wanted', 'ordered', 'wrong', 'broken', 'sent back');
CREATE INDEX ix_parts_order_unit_id ON parts_order (unit_id);
CREATE INDEX ix_party_name ON party (name COLLATE NOCASE);
CREATE INDEX ix_photograph_caption_photograph_id ON photograph_caption (photograph_id);
CREATE INDEX ix_photograph_fault_id ON photograph (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_photograph_grade_id ON photograph (grade_id);
CREATE INDEX ix_photograph_model_page_id ON photograph (model_page_id) WHERE model_page_id IS NOT NULL;
CREATE INDEX ix_photograph_model_step_id ON photograph (model_step_id) WHERE model_step_id IS NOT NULL;
CREATE INDEX ix_photograph_task_id ON photograph (task_id);
CREATE INDEX ix_photograph_unit_id ON photograph (unit_id);
CREATE INDEX ix_purchase_lot_id ON purchase (lot_id);
CREATE INDEX ix_purchase_party_id ON purchase (party_id);
CREATE INDEX ix_quote_line_job_id ON quote_line (job_id);
CREATE INDEX ix_reading_drive_id ON reading (drive_id);
CREATE INDEX ix_reading_unit_id ON reading (unit_id);
CREATE INDEX ix_repair_job_unit_id ON repair_job (unit_id);
CREATE INDEX ix_repair_job_way_out_id ON repair_job (way_out_id);
CREATE INDEX ix_route_task_route_id ON route_task (route_id);
CREATE INDEX ix_sale_channel_id ON sale (channel_id, sold_us);
CREATE INDEX ix_sale_party_id ON sale (party_id);
CREATE INDEX ix_sale_sold_on ON sale (sold_on);
CREATE INDEX ix_sale_unit_id ON sale (unit_id);
CREATE INDEX ix_specification_file_digest ON specification (file_digest) WHERE file_digest <> '' AND removed = 0;
CREATE INDEX ix_specification_unit_id ON specification (unit_id, removed);
CREATE INDEX ix_stage_move_from_stage_id ON stage_move (from_stage_id, at_us, from_since_us) WHERE removed = 0;
CREATE INDEX ix_stage_move_to_stage_id ON stage_move (to_stage_id, at_us, unit_id) WHERE removed = 0;
CREATE INDEX ix_stage_move_unit_id ON stage_move (unit_id, removed, from_stage_id, from_since_us, to_stage_id, at_us);
CREATE INDEX ix_task_ended_us ON task (ended_us);
CREATE INDEX ix_task_fault_id ON task (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_task_name ON task (name, ended_us);
CREATE INDEX ix_task_unit_id ON task (unit_id, state);
CREATE INDEX ix_task_use_task_id ON task_use (task_id, consumable_id, quantity);
CREATE INDEX ix_task_wait_order_id ON task_wait (order_id);
CREATE INDEX ix_task_wait_task_id ON task_wait (task_id);
CREATE INDEX ix_test_run_at_us ON test_run (at_us);
CREATE INDEX ix_test_run_fault_id ON test_run (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_test_run_task_id ON test_run (task_id, at_us) WHERE task_id IS NOT NULL;
CREATE INDEX ix_test_run_unit_id ON test_run (unit_id, kind, at_us);
CREATE INDEX ix_time_entry_fault_id ON time_entry (fault_id) WHERE fault_id IS NOT NULL;
CREATE INDEX ix_time_entry_long ON time_entry (stopped_us, started_us) WHERE stopped_us - started_us > 86400000000;
CREATE INDEX ix_time_entry_open ON time_entry (task_id) WHERE stopped_us IS NULL;
CREATE INDEX ix_time_entry_person_id ON time_entry (person_id, attended, started_us);
CREATE INDEX ix_time_entry_runs ON time_entry (person_id, attended) WHERE stopped_us IS NULL;
CREATE INDEX ix_time_entry_started_us ON time_entry (started_us, stopped_us, attended, task_id, person_id);
CREATE INDEX ix_time_entry_task_id ON time_entry (task_id, attended, started_us, stopped_us);
CREATE INDEX ix_unit_model ON unit (model COLLATE NOCASE);
CREATE INDEX ix_unit_owner_id ON unit (owner_id) WHERE owner_id IS NOT NULL;
CREATE INDEX ix_unit_serial ON unit (lower(replace(serial, ' ', '')));
CREATE INDEX ix_unit_stage_id ON unit (stage_id, removed);
CREATE INDEX ix_unwiped_unit_id ON unwiped (unit_id);
CREATE INDEX ix_way_out_at_us ON way_out (at_us);
CREATE INDEX ix_way_out_unit_id ON way_out (unit_id);
CREATE INDEX ix_wipe_drive_id ON wipe (drive_id);
CREATE UNIQUE INDEX uq_access_word_job_id ON access_word (job_id);
CREATE UNIQUE INDEX uq_channel_name ON channel (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_consumable_name ON consumable (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_journal_takes_back_id ON journal (takes_back_id);
CREATE UNIQUE INDEX uq_model_page_name ON model_page (model COLLATE NOCASE, maker COLLATE NOCASE) WHERE removed = 0;
CREATE UNIQUE INDEX uq_movement_reverses_id ON movement (reverses_id);
CREATE UNIQUE INDEX uq_person_name ON person (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_photograph_caption_photograph_id ON photograph_caption (photograph_id) WHERE removed = 0;
CREATE UNIQUE INDEX uq_photograph_unit_id_folder_name ON photograph (unit_id, folder, name) WHERE erased_us IS NULL;
CREATE UNIQUE INDEX uq_photograph_unit_id_sha256 ON photograph (unit_id, sha256) WHERE removed = 0 AND erased_us IS NULL;
CREATE UNIQUE INDEX uq_purchase_unit_id ON purchase (unit_id);
CREATE UNIQUE INDEX uq_repair_job_open ON repair_job (unit_id) WHERE removed = 0 AND collected_on IS NULL;
CREATE UNIQUE INDEX uq_route_name ON route (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_stage_name ON stage (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_task_power_name ON task_power (name) WHERE removed = 0;
CREATE UNIQUE INDEX uq_time_entry_open_attended ON time_entry (person_id) WHERE stopped_us IS NULL AND attended = 1;
CREATE UNIQUE INDEX uq_time_entry_open_unattended ON time_entry (task_id) WHERE stopped_us IS NULL AND attended = 0;
CREATE UNIQUE INDEX uq_unit_listing_unit_id ON unit_listing (unit_id) WHERE removed = 0;
CREATE UNIQUE INDEX uq_unit_tag ON unit (tag) WHERE removed = 0;
CREATE UNIQUE INDEX uq_way_estimate_unit_id ON way_estimate (unit_id, way) WHERE removed = 0;
CREATE UNIQUE INDEX uq_way_out_out ON way_out (unit_id) WHERE removed = 0 AND ended_us IS NULL;
CREATE TRIGGER booking_key_is_kept BEFORE DELETE ON booking_key
    BEGIN SELECT RAISE(ABORT, 'a booking key is never deleted'); END;
CREATE TRIGGER booking_key_stays BEFORE UPDATE ON booking_key
    BEGIN SELECT RAISE(ABORT, 'a booking key is never changed'); END;
CREATE TRIGGER comeback_settles_insert AFTER INSERT ON comeback BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = (SELECT unit_id FROM sale WHERE id = NEW.sale_id);
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = (SELECT unit_id FROM sale WHERE id = NEW.sale_id);
    END;
CREATE TRIGGER comeback_settles_update AFTER UPDATE OF undoes, removed ON comeback BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = (SELECT unit_id FROM sale WHERE id = NEW.sale_id);
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = (SELECT unit_id FROM sale WHERE id = NEW.sale_id);
    END;
CREATE TRIGGER component_gone_from_the_shelf BEFORE UPDATE OF gone ON component
    WHEN NEW.gone <> '' AND NOT EXISTS (
        SELECT 1 FROM part
        WHERE part.component_id = NEW.id AND part.removed = 0 AND part.to_unit_id IS NULL)
    BEGIN SELECT RAISE(ABORT, 'a part leaves the shop from the shelf'); END;
CREATE TRIGGER journal_is_kept BEFORE DELETE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is never deleted'); END;
CREATE TRIGGER journal_names_its_rows AFTER INSERT ON journal
    BEGIN
        INSERT INTO journal_row (table_name, row_id, journal_id)
        SELECT DISTINCT json_extract(change.value, '$.table'), json_extract(change.value, '$.id'), NEW.id
        FROM json_each(NEW.changes) AS change;
    END;
CREATE TRIGGER journal_row_is_kept BEFORE DELETE ON journal_row
    BEGIN SELECT RAISE(ABORT, 'the journal is never deleted'); END;
CREATE TRIGGER journal_row_stays BEFORE UPDATE ON journal_row
    BEGIN SELECT RAISE(ABORT, 'the journal is never changed'); END;
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is never changed'); END;
CREATE TRIGGER movement_changes_balance AFTER INSERT ON movement BEGIN
        INSERT INTO layer_balance (layer_id, consumable_id, quantity, cost_minor)
        VALUES (COALESCE(NEW.layer_id, NEW.id), NEW.consumable_id, NEW.quantity, NEW.cost_minor)
        ON CONFLICT (layer_id) DO UPDATE
        SET quantity = quantity + excluded.quantity, cost_minor = cost_minor + excluded.cost_minor;
        DELETE FROM layer_balance
        WHERE layer_id = COALESCE(NEW.layer_id, NEW.id) AND quantity = 0 AND cost_minor = 0;
    END;
CREATE TRIGGER movement_is_kept BEFORE DELETE ON movement
    BEGIN SELECT RAISE(ABORT, 'a movement of stock is never deleted'); END;
CREATE TRIGGER movement_not_below_zero AFTER INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND (
        SELECT SUM(quantity) FROM movement WHERE id = NEW.layer_id OR layer_id = NEW.layer_id
    ) < 0
    BEGIN SELECT RAISE(ABORT, 'stock never goes below zero'); END;
CREATE TRIGGER movement_own_layer BEFORE INSERT ON movement
    WHEN NEW.layer_id IS NOT NULL AND NOT EXISTS (
        SELECT 1 FROM movement
        WHERE id = NEW.layer_id AND layer_id IS NULL AND consumable_id = NEW.consumable_id
    )
    BEGIN SELECT RAISE(ABORT, 'stock is drawn from a receipt of the same consumable'); END;
CREATE TRIGGER movement_stays BEFORE UPDATE ON movement
    BEGIN SELECT RAISE(ABORT, 'a movement of stock is never changed'); END;
CREATE TRIGGER part_no_bad_cell BEFORE INSERT ON part
    WHEN EXISTS (SELECT 1 FROM unit WHERE unit.id IN (NEW.from_unit_id, NEW.to_unit_id)
                 AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
CREATE TRIGGER part_not_gone_insert BEFORE INSERT ON part WHEN EXISTS (SELECT 1 FROM component WHERE component.id = NEW.component_id AND component.gone <> '')
    BEGIN SELECT RAISE(ABORT, 'a part that is gone does not move'); END;
CREATE TRIGGER part_not_gone_update BEFORE UPDATE OF component_id, from_unit_id, to_unit_id, removed ON part WHEN EXISTS (SELECT 1 FROM component WHERE component.id = NEW.component_id AND component.gone <> '')
    BEGIN SELECT RAISE(ABORT, 'a part that is gone does not move'); END;
CREATE TRIGGER part_one_place_insert AFTER INSERT ON part WHEN EXISTS (
        SELECT 1 FROM part AS move JOIN part AS before ON before.id = (
            SELECT MAX(last.id) FROM part AS last
            WHERE last.component_id = move.component_id AND last.removed = 0 AND last.id < move.id)
        WHERE move.component_id = NEW.component_id AND move.removed = 0
        AND (move.from_unit_id IS NULL OR before.to_unit_id IS NOT move.from_unit_id))
    BEGIN SELECT RAISE(ABORT, 'a part is in one place at a time'); END;
CREATE TRIGGER part_one_place_update AFTER UPDATE OF component_id, from_unit_id, to_unit_id, removed ON part WHEN EXISTS (
        SELECT 1 FROM part AS move JOIN part AS before ON before.id = (
            SELECT MAX(last.id) FROM part AS last
            WHERE last.component_id = move.component_id AND last.removed = 0 AND last.id < move.id)
        WHERE move.component_id = NEW.component_id AND move.removed = 0
        AND (move.from_unit_id IS NULL OR before.to_unit_id IS NOT move.from_unit_id))
    BEGIN SELECT RAISE(ABORT, 'a part is in one place at a time'); END;
CREATE TRIGGER safety_check_battery_in BEFORE INSERT ON safety_check
    WHEN NEW.list = 'close_up' AND NEW.item = 'battery_in' AND EXISTS (
        SELECT 1 FROM unit JOIN task ON task.unit_id = unit.id AND task.lid_off = 1
        JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE unit.id = NEW.unit_id AND unit.lid_count = NEW.lid_count)
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while a timer runs inside'); END;
CREATE TRIGGER safety_check_battery_out BEFORE DELETE ON safety_check
    WHEN OLD.list = 'opening' AND OLD.item IN ('battery_out', 'without')
    AND NOT EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = OLD.unit_id
        AND tick.lid_count = OLD.lid_count AND tick.list = 'opening' AND tick.id <> OLD.id
        AND tick.item IN ('battery_out', 'without'))
    AND EXISTS (
        SELECT 1 FROM unit JOIN task ON task.unit_id = unit.id AND task.lid_off = 1 AND task.opens = 0
        JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE unit.id = OLD.unit_id AND unit.lid_count = OLD.lid_count AND EXISTS (
            SELECT 1 FROM task AS first WHERE first.unit_id = unit.id AND first.opens = 1
            AND first.removed = 0))
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while a timer runs inside'); END;
CREATE TRIGGER sale_settles_insert AFTER INSERT ON sale BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = NEW.unit_id;
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = NEW.unit_id;
    END;
CREATE TRIGGER sale_settles_update AFTER UPDATE OF sold_us, removed ON sale BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = NEW.unit_id;
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = NEW.unit_id;
    END;
CREATE TRIGGER sale_wiped BEFORE INSERT ON sale
    WHEN EXISTS (
        SELECT 1 FROM drive LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
        WHERE drive.unit_id = NEW.unit_id AND drive.removed = 0 AND NOT EXISTS (
            SELECT 1 FROM wipe WHERE wipe.drive_id = drive.id AND wipe.removed = 0
            AND wipe.result = 'passed' AND wipe.wiped_us >= COALESCE(drive.outside_us, 0)
            AND date(wipe.wiped_us / 1000000 + 50400, 'unixepoch') >= COALESCE(purchase.bought_on, '')))
    AND NOT EXISTS (
        SELECT 1 FROM unwiped WHERE unwiped.unit_id = NEW.unit_id AND unwiped.removed = 0
        AND ' ' || unwiped.covers || ' ' LIKE '% wipe %')
    BEGIN SELECT RAISE(ABORT, 'a sold unit has its drives wiped, or a reason'); END;
CREATE TRIGGER stage_move_again BEFORE UPDATE OF removed ON stage_move
    WHEN NEW.removed = 0 AND OLD.removed = 1 AND NOT EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.from_stage_id AND unit.stage_since_us = NEW.from_since_us)
    BEGIN SELECT RAISE(ABORT, 'a move begins where its unit stands'); END;
CREATE TRIGGER stage_move_begins BEFORE INSERT ON stage_move
    WHEN NOT EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.from_stage_id AND unit.stage_since_us = NEW.from_since_us)
    AND (NEW.from_stage_id, NEW.from_since_us) <> (
        SELECT last.to_stage_id, last.at_us FROM stage_move AS last
        WHERE last.unit_id = NEW.unit_id AND last.removed = 0 ORDER BY last.id DESC LIMIT 1)
    BEGIN SELECT RAISE(ABORT, 'a move begins where its unit stands'); END;
CREATE TRIGGER stage_move_is_kept BEFORE DELETE ON stage_move
    BEGIN SELECT RAISE(ABORT, 'a move between stages is never deleted'); END;
CREATE TRIGGER stage_move_stays BEFORE UPDATE OF id, unit_id, from_stage_id, from_since_us, to_stage_id, at_us, person_id ON stage_move
    BEGIN SELECT RAISE(ABORT, 'a move between stages is never changed'); END;
CREATE TRIGGER stage_move_undone BEFORE UPDATE OF removed ON stage_move
    WHEN NEW.removed = 1 AND OLD.removed = 0 AND EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id
        AND unit.stage_id = NEW.to_stage_id AND unit.stage_since_us = NEW.at_us)
    BEGIN SELECT RAISE(ABORT, 'a unit stands where this move led'); END;
CREATE TRIGGER task_no_bad_cell BEFORE UPDATE OF state ON task
    WHEN NEW.state = 'done' AND OLD.state <> 'done' AND EXISTS (
        SELECT 1 FROM unit WHERE unit.id = NEW.unit_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
CREATE TRIGGER time_entry_battery_out_insert BEFORE INSERT ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND task.lid_off = 1 AND (
            EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'close_up' AND tick.item = 'battery_in')
            OR (task.opens = 0 AND EXISTS (
                SELECT 1 FROM task AS first WHERE first.unit_id = unit.id AND first.opens = 1
                AND first.removed = 0)
            AND NOT EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'opening'
                AND tick.item IN ('battery_out', 'without')))))
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while the cover is off'); END;
CREATE TRIGGER time_entry_battery_out_update BEFORE UPDATE OF stopped_us, task_id ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND task.lid_off = 1 AND (
            EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'close_up' AND tick.item = 'battery_in')
            OR (task.opens = 0 AND EXISTS (
                SELECT 1 FROM task AS first WHERE first.unit_id = unit.id AND first.opens = 1
                AND first.removed = 0)
            AND NOT EXISTS (SELECT 1 FROM safety_check AS tick WHERE tick.unit_id = unit.id
                AND tick.lid_count = unit.lid_count AND tick.list = 'opening'
                AND tick.item IN ('battery_out', 'without')))))
    BEGIN SELECT RAISE(ABORT, 'the battery stays out while the cover is off'); END;
CREATE TRIGGER time_entry_no_bad_cell_insert BEFORE INSERT ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
CREATE TRIGGER time_entry_no_bad_cell_update BEFORE UPDATE OF stopped_us, task_id ON time_entry
    WHEN NEW.stopped_us IS NULL AND EXISTS (
        SELECT 1 FROM task JOIN unit ON unit.id = task.unit_id
        WHERE task.id = NEW.task_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
CREATE TRIGGER time_entry_overlap_INSERT BEFORE INSERT ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, 9223372036854775807) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, NEW.started_us + 1)
        AND other.started_us IS NOT other.stopped_us
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, 9223372036854775807) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one hands-on task at a time'); END;
CREATE TRIGGER time_entry_overlap_UPDATE BEFORE UPDATE OF person_id, attended, started_us, stopped_us ON time_entry
    WHEN NEW.attended = 1 AND (
        SELECT COALESCE(other.stopped_us, 9223372036854775807) FROM time_entry AS other
        WHERE other.person_id = NEW.person_id AND other.attended = 1 AND other.id IS NOT NEW.id
        AND other.started_us < COALESCE(NEW.stopped_us, 9223372036854775807)
        AND other.started_us IS NOT other.stopped_us
        ORDER BY other.started_us DESC, COALESCE(other.stopped_us, 9223372036854775807) DESC LIMIT 1
    ) > NEW.started_us
    BEGIN SELECT RAISE(ABORT, 'one person has one hands-on task at a time'); END;
CREATE TRIGGER unit_bad_cell_stays BEFORE UPDATE OF stage_id ON unit
    WHEN NEW.cell_finding IS NOT NULL AND NEW.stage_id <> OLD.stage_id
    AND (SELECT final FROM stage WHERE id = OLD.stage_id) = 0
    AND (SELECT final FROM stage WHERE id = NEW.stage_id) = 0
    BEGIN SELECT RAISE(ABORT, 'a unit with a bad cell stays where it is'); END;
CREATE TRIGGER unit_bad_cell_stops BEFORE UPDATE OF cell_finding ON unit
    WHEN NEW.cell_finding IS NOT NULL AND EXISTS (
        SELECT 1 FROM task JOIN time_entry AS entry ON entry.task_id = task.id AND entry.stopped_us IS NULL
        WHERE task.unit_id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
CREATE TRIGGER unit_counted_delete AFTER DELETE ON unit BEGIN
        UPDATE stage_count SET units = units - 1 WHERE stage_id = OLD.stage_id AND OLD.removed = 0;
        DELETE FROM stage_count WHERE stage_id = OLD.stage_id AND units = 0;
    END;
CREATE TRIGGER unit_counted_insert AFTER INSERT ON unit BEGIN
        INSERT INTO stage_count (stage_id, units) SELECT NEW.stage_id, 1 WHERE NEW.removed = 0
        ON CONFLICT (stage_id) DO UPDATE SET units = units + 1;
    END;
CREATE TRIGGER unit_counted_update AFTER UPDATE OF stage_id, removed ON unit
    WHEN (NEW.stage_id, NEW.removed) <> (OLD.stage_id, OLD.removed) BEGIN
        UPDATE stage_count SET units = units - 1 WHERE stage_id = OLD.stage_id AND OLD.removed = 0;
        DELETE FROM stage_count WHERE stage_id = OLD.stage_id AND units = 0;
        INSERT INTO stage_count (stage_id, units) SELECT NEW.stage_id, 1 WHERE NEW.removed = 0
        ON CONFLICT (stage_id) DO UPDATE SET units = units + 1;
        UPDATE way_count SET units = units - 1 WHERE OLD.removed = 0 AND stage_id = OLD.stage_id AND way = (SELECT way FROM way_out WHERE unit_id = OLD.id AND removed = 0 AND ended_us IS NULL);
        DELETE FROM way_count WHERE units = 0;
        INSERT INTO way_count (stage_id, way, units)
        SELECT unit.stage_id, way_out.way, COUNT(*) FROM way_out CROSS JOIN unit ON unit.id = way_out.unit_id AND unit.id = NEW.id
        WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND unit.removed = 0
        GROUP BY unit.stage_id, way_out.way
        ON CONFLICT (stage_id, way) DO UPDATE SET units = units + excluded.units;
    END;
CREATE TRIGGER unit_listed_wiped BEFORE UPDATE OF stage_id ON unit
    WHEN NEW.stage_id <> OLD.stage_id AND (SELECT lists FROM stage WHERE id = NEW.stage_id) = 1
    AND EXISTS (
        SELECT 1 FROM drive LEFT JOIN purchase ON purchase.unit_id = drive.came_in_unit_id
        WHERE drive.unit_id = NEW.id AND drive.removed = 0 AND NOT EXISTS (
            SELECT 1 FROM wipe WHERE wipe.drive_id = drive.id AND wipe.removed = 0
            AND wipe.result = 'passed' AND wipe.wiped_us >= COALESCE(drive.outside_us, 0)
            AND date(wipe.wiped_us / 1000000 + 50400, 'unixepoch') >= COALESCE(purchase.bought_on, '')))
    AND NOT EXISTS (
        SELECT 1 FROM unwiped WHERE unwiped.unit_id = NEW.id AND unwiped.removed = 0
        AND ' ' || unwiped.covers || ' ' LIKE '% wipe %')
    BEGIN SELECT RAISE(ABORT, 'a listed unit has its drives wiped, or a reason'); END;
CREATE TRIGGER unit_moves_by_a_row AFTER UPDATE OF stage_id, stage_since_us ON unit
    WHEN (NEW.stage_id, NEW.stage_since_us) <> (OLD.stage_id, OLD.stage_since_us) AND NOT EXISTS (
        SELECT 1 FROM stage_move AS move WHERE move.unit_id = NEW.id AND move.removed = 0
        AND (move.from_stage_id, move.from_since_us, move.to_stage_id, move.at_us) IN (
            (OLD.stage_id, OLD.stage_since_us, NEW.stage_id, NEW.stage_since_us),
            (NEW.stage_id, NEW.stage_since_us, OLD.stage_id, OLD.stage_since_us)))
    BEGIN SELECT RAISE(ABORT, 'a unit changes its stage with a row of the move'); END;
CREATE TRIGGER way_out_counted_delete AFTER DELETE ON way_out BEGIN
        UPDATE way_count SET units = units - 1 WHERE OLD.removed = 0 AND OLD.ended_us IS NULL AND stage_id = (SELECT stage_id FROM unit WHERE id = OLD.unit_id AND removed = 0) AND way = OLD.way;
        DELETE FROM way_count WHERE units = 0;
    END;
CREATE TRIGGER way_out_counted_insert AFTER INSERT ON way_out BEGIN
        INSERT INTO way_count (stage_id, way, units)
        SELECT unit.stage_id, way_out.way, COUNT(*) FROM way_out CROSS JOIN unit ON unit.id = way_out.unit_id AND way_out.id = NEW.id
        WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND unit.removed = 0
        GROUP BY unit.stage_id, way_out.way
        ON CONFLICT (stage_id, way) DO UPDATE SET units = units + excluded.units;
    END;
CREATE TRIGGER way_out_counted_update AFTER UPDATE OF way, ended_us, removed ON way_out BEGIN
        UPDATE way_count SET units = units - 1 WHERE OLD.removed = 0 AND OLD.ended_us IS NULL AND stage_id = (SELECT stage_id FROM unit WHERE id = OLD.unit_id AND removed = 0) AND way = OLD.way;
        DELETE FROM way_count WHERE units = 0;
        INSERT INTO way_count (stage_id, way, units)
        SELECT unit.stage_id, way_out.way, COUNT(*) FROM way_out CROSS JOIN unit ON unit.id = way_out.unit_id AND way_out.id = NEW.id
        WHERE way_out.removed = 0 AND way_out.ended_us IS NULL AND unit.removed = 0
        GROUP BY unit.stage_id, way_out.way
        ON CONFLICT (stage_id, way) DO UPDATE SET units = units + excluded.units;
    END;
CREATE TRIGGER way_out_settles_insert AFTER INSERT ON way_out BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = NEW.unit_id;
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = NEW.unit_id;
    END;
CREATE TRIGGER way_out_settles_update AFTER UPDATE OF way, ended_us, removed ON way_out BEGIN
        DELETE FROM unsettled_sale WHERE unit_id = NEW.unit_id;
        INSERT INTO unsettled_sale (unit_id, unrecorded, undone) 
SELECT unit.id AS unit_id, way_out.way IS NOT NULL AS unrecorded, EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id) AS undone
FROM unit LEFT JOIN way_out ON way_out.unit_id = unit.id AND way_out.removed = 0 AND way_out.ended_us IS NULL
WHERE COALESCE(way_out.way, 'sold') = 'sold' AND (way_out.way IS NOT NULL OR EXISTS (
    SELECT 1 FROM sale AS was CROSS JOIN comeback ON comeback.sale_id = was.id AND comeback.removed = 0
    AND comeback.undoes = 1 WHERE was.unit_id = unit.id)) AND NOT 
EXISTS (SELECT 1 FROM sale WHERE sale.unit_id = unit.id AND sale.removed = 0 AND 
NOT EXISTS (SELECT 1 FROM sale AS later WHERE later.unit_id = sale.unit_id AND later.removed = 0
            AND (later.sold_us, later.id) > (sale.sold_us, sale.id))
 AND NOT 
EXISTS (SELECT 1 FROM comeback WHERE comeback.sale_id = sale.id AND comeback.removed = 0
        AND comeback.undoes = 1)
) AND unit.id = NEW.unit_id;
    END;
CREATE TRIGGER wipe_no_bad_cell BEFORE INSERT ON wipe
    WHEN EXISTS (SELECT 1 FROM drive JOIN unit ON unit.id = drive.unit_id
                 WHERE drive.id = NEW.drive_id AND unit.cell_finding IS NOT NULL)
    BEGIN SELECT RAISE(ABORT, 'a bad cell stops all work on its unit'); END;
