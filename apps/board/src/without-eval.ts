import { config } from 'zod';

// The content security policy forbids code made from text, which zod would try once, and be reported for. Must be imported
// before every schema.
config({ jitless: true });
