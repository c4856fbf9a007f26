"""Words to structure: which meanings a line of directions has. One is a reading, several are a question, none is a refusal."""
