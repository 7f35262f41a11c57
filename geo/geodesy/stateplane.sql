-- Makes stateplane.csv from the EPSG dataset as PROJ packs it. One row is one
-- conversion; the four code columns are the systems that use it, by
-- realization of NAD83. Written with
--
--	sqlite3 -csv -header proj.db < stateplane.sql > stateplane.csv
--
-- from the proj.db of PROJ 9.1.1, EPSG dataset v10.076 of 2022-08-31.
-- Methods: 9807 transverse Mercator, 9802 Lambert conic conformal (2SP); the
-- one oblique Mercator zone, Alaska 1, is left out. Angles in units 9110 are
-- sexagesimal, DDD.MMSSsss, and 9102 degrees. a and b are the scale factor
-- (9807), or the first and second standard parallel (9802).
SELECT
	replace(substr(c.name, 8, instr(c.name, ' (') - 8), ' zone', '') AS zone,
	c.method_code AS method,
	c.param1_uom_code AS angle,
	c.param1_value AS lat0,
	c.param2_value AS lon0,
	c.param3_value AS a,
	CASE c.method_code WHEN 9802 THEN c.param4_value END AS b,
	CASE c.method_code WHEN 9802 THEN c.param5_value ELSE c.param4_value END AS easting,
	CASE c.method_code WHEN 9802 THEN c.param6_value ELSE c.param5_value END AS northing,
	CASE c.method_code WHEN 9802 THEN c.param5_uom_code ELSE c.param4_uom_code END AS unit,
	max(CASE p.geodetic_crs_code WHEN 4269 THEN p.code END) AS nad83,
	max(CASE p.geodetic_crs_code WHEN 4152 THEN p.code END) AS harn,
	max(CASE p.geodetic_crs_code WHEN 4759 THEN p.code END) AS nsrs2007,
	max(CASE p.geodetic_crs_code WHEN 6318 THEN p.code END) AS "2011",
	min(e.west_lon) AS west, min(e.south_lat) AS south, max(e.east_lon) AS east, max(e.north_lat) AS north
FROM projected_crs p
JOIN conversion_table c ON c.auth_name = 'EPSG' AND c.code = p.conversion_code AND p.conversion_auth_name = 'EPSG'
JOIN usage u ON u.object_table_name = 'projected_crs' AND u.object_auth_name = 'EPSG' AND u.object_code = p.code
JOIN extent e ON e.auth_name = u.extent_auth_name AND e.code = u.extent_code
WHERE p.auth_name = 'EPSG' AND p.deprecated = 0
	AND p.geodetic_crs_code IN (4269, 4152, 4759, 6318)
	AND c.name LIKE 'SPCS83%' AND c.method_code IN (9802, 9807)
GROUP BY c.code
ORDER BY c.code;
