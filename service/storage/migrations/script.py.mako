"""${message}"""

import sqlalchemy as sa
from alembic import op

from service.storage.rows import UtcDateTime

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    raise NotImplementedError("restore the backup made before the upgrade")
