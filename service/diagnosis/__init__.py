"""From a problem and what is known of it to the next question or the finding: `diagnose`."""

from service.diagnosis.diagnose import Diagnosis, diagnose

__all__ = ["Diagnosis", "diagnose"]
