/**
 * Opens the store of a data folder. A damaged one is looked through first and rebuilt from what is
 * whole, beside the damaged file.
 *
 * <p>Speaks SQL, since it reads what SQLite itself cannot. Never changes or deletes a damaged file.
 */
@NullMarked
package org.layroom.dashboard.store.salvage;

import org.jspecify.annotations.NullMarked;
