/**
 * The store in one SQLite file: tables, versions, statements, and the lock on the data folder.
 *
 * <p>With {@code store.salvage} the only package that speaks SQL. Never looks for damage.
 */
@NullMarked
package org.layroom.dashboard.store.sqlite;

import org.jspecify.annotations.NullMarked;
