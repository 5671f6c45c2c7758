/**
 * The store in one SQLite file: tables, versions and upgrades, statements, and the lock on the data
 * folder. Readings are kept as they came, as one-minute and as hourly averages ({@code Rollups}
 * says how they agree); {@code StripQuery} chooses which of them answers.
 *
 * <p>With {@code store.salvage} the only package that speaks SQL. Never looks for damage.
 */
@NullMarked
package org.layroom.dashboard.store.sqlite;

import org.jspecify.annotations.NullMarked;
